package org.layroom.predictor.vapor;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** What the warnings say: each what to do and what would end it, none that all is well. */
final class WatchWords {
  private static final double COLDEST_C = 10;
  private static final double WARMEST_C = 40;
  private static final double DRIEST_PCT = 20;
  private static final double DAMPEST_PCT = 80;

  private WatchWords() {}

  /** Why a chip's value is doubtful in this air; empty when it is not. */
  static Optional<String> doubt(Optional<AirEvent.Climate> climate) {
    if (climate.isEmpty()) {
      return Optional.of(
          "Air temperature and humidity are missing, so the vapor reading is not corrected.");
    }
    double temperature = climate.get().temperatureC();
    double humidity = climate.get().humidityPct();
    boolean inside =
        temperature >= COLDEST_C
            && temperature <= WARMEST_C
            && humidity >= DRIEST_PCT
            && humidity <= DAMPEST_PCT;
    return inside
        ? Optional.empty()
        : Optional.of(
            String.format(
                Locale.ROOT,
                "The sensor cannot be used at %.0f °C and %.0f %% humidity: only from 10 to 40"
                    + " °C and 20 to 80 %%.",
                temperature,
                humidity));
  }

  static String whatToDo(AirCall call) {
    return switch (call) {
      case OK -> "";
      case VENTILATE ->
          "Run the fan, open to the outdoors, keep the door to the house shut, close the cans.";
      case UNKNOWN ->
          "Ventilate as if the air were bad, and wear the respirator. Then check the sensor.";
      case LEAVE ->
          "Leave now. Ventilate afterward, from outside. Touch no switch in the vapor. If you"
              + " feel dizzy or have a headache, get to fresh air first and tell somebody.";
    };
  }

  static String endsWhen(AirCall call, VaporSensor sensor, boolean quiet) {
    String leaveEnd =
        sensor instanceof VaporSensor.Chip chip
            ? "the one-minute average has stayed below "
                + number(
                    ChipThresholds.DOWN * (quiet ? chip.leave().inJob() : chip.leave().outside()))
                + " times clean air"
            : "the 15-minute average has stayed below "
                + number(0.8 * ((VaporSensor.Pid) sensor).limit().shortTermPpm())
                + " ppm";
    return switch (call) {
      case OK -> "";
      case VENTILATE ->
          "Ends when the 15-minute average has stayed below " + lowEnough(sensor) + " for 10 min.";
      case UNKNOWN -> "Ends when the sensor works again and has measured 12 of the last 15 min.";
      case LEAVE -> "Ends when somebody has acknowledged it and " + leaveEnd + " for 10 min.";
    };
  }

  private static String lowEnough(VaporSensor sensor) {
    return sensor instanceof VaporSensor.Pid pid
        ? number(0.8 * 0.5 * pid.limit().eightHourPpm()) + " ppm"
        : number(ChipThresholds.DOWN * ChipThresholds.OK_BELOW) + " times clean air";
  }

  static AirWarning seen(AirWarning warning, AirWarning.Seen by) {
    return new AirWarning(
        warning.id(),
        warning.call(),
        warning.since(),
        List.copyOf(warning.why()),
        warning.whatToDo(),
        warning.endsWhen(),
        Optional.of(by),
        AirWarning.Sound.SILENT);
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, "%.1f", value);
  }
}
