package org.layroom.device.telemetry;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.Styrene;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.VaporSensor;

/**
 * What the readings of one moment mean to the watch over the air: the one translation, for the
 * device's own alarm, for the dashboard's warnings, and for what the dashboard has stored.
 */
public final class AirEvents {
  /** What a metal-oxide chip tells, the nearest to the sensor first. */
  public static final List<String> OF_A_CHIP = List.of(Series.VOC_RAW, Series.VOC_LEVEL);

  /** What a detector tells, the nearest to the sensor first. */
  public static final List<String> OF_A_DETECTOR =
      List.of(Series.ISOBUTYLENE, Series.STYRENE_ESTIMATE);

  /** Why a detector's reading is doubtful at its upper end; the ppm are then "at least". */
  public static final String AT_END = "at the end of its range: at least this much vapor";

  private static final double MILLION = 1e6;
  private static final double MOST_TIMES_CLEAN_AIR = 1e6;

  private AirEvents() {}

  /** Whether readings say anything of vapor. */
  public static boolean measureVapor(List<Reading> readings) {
    return any(readings, OF_A_CHIP) || any(readings, OF_A_DETECTOR);
  }

  /**
   * The event of one moment's readings.
   *
   * @param sensor what the watch goes by
   * @param time on the watch's own clock
   * @return empty when the readings say nothing that such a sensor could
   */
  public static Optional<AirEvent> of(VaporSensor sensor, Instant time, List<Reading> readings) {
    return sensor instanceof VaporSensor.Chip chip
        ? ofChip(chip, time, readings)
        : ofDetector((VaporSensor.Pid) sensor, time, readings);
  }

  /** A chip's raw signal, where the readings have one. */
  public static Optional<AirEvent.Ticks> ticks(Instant time, List<Reading> readings) {
    return named(readings, Series.VOC_RAW)
        .filter(raw -> raw.value().isPresent())
        .map(raw -> ticks(time, raw.value().getAsDouble(), raw, readings));
  }

  private static AirEvent.Ticks ticks(
      Instant time, double ticks, Reading raw, List<Reading> readings) {
    return new AirEvent.Ticks(time, ticks, climate(readings), doubt(raw, atVaporEnd(readings)));
  }

  private static Optional<AirEvent> ofChip(
      VaporSensor.Chip chip, Instant time, List<Reading> readings) {
    Optional<Reading> reading =
        named(readings, chip.keptByDevice() ? Series.VOC_LEVEL : Series.VOC_RAW);
    if (reading.isEmpty()) {
      return any(readings, OF_A_DETECTOR)
          ? wrongMode(time, "a detector's, and the mode is chip")
          : Optional.empty();
    }
    Optional<AirEvent> nothing = nothing(time, reading.get());
    if (nothing.isPresent()) {
      return nothing;
    }
    double value = reading.get().value().orElseThrow();
    if (!chip.keptByDevice()) {
      return Optional.of(ticks(time, value, reading.get(), readings));
    }
    boolean pinned = atVaporEnd(readings);
    return Optional.of(
        new AirEvent.Level(
            time, Math.min(MOST_TIMES_CLEAN_AIR, value), pinned, doubt(reading.get(), pinned)));
  }

  private static boolean atVaporEnd(List<Reading> readings) {
    OptionalDouble raw = value(readings, Series.VOC_RAW);
    return raw.isPresent() && raw.getAsDouble() <= 0;
  }

  /**
   * Whether the air may be explosive: a sensor at its end toward vapor says "at least", and a
   * detector tells a tenth of styrene's lower explosive limit (900 ppm; NIOSH Pocket Guide).
   *
   * @return empty when the readings say nothing of vapor
   */
  public static Optional<Boolean> mayExplode(List<Reading> readings) {
    OptionalDouble raw = value(readings, Series.VOC_RAW);
    OptionalDouble styrene = value(readings, Series.STYRENE_ESTIMATE);
    if (raw.isEmpty() && styrene.isEmpty()) {
      return Optional.empty();
    }
    boolean atEnd =
        (raw.isPresent() && raw.getAsDouble() <= 0)
            || readings.stream().anyMatch(AirEvents::isAtEnd);
    boolean tenth =
        styrene.isPresent()
            && MILLION * styrene.getAsDouble() >= Styrene.TENTH_OF_EXPLOSIVE_LIMIT_PPM;
    return Optional.of(atEnd || tenth);
  }

  /** At its end toward vapor a sensor is not doubted: that is the message. */
  private static Optional<String> doubt(Reading reading, boolean atVaporEnd) {
    return !atVaporEnd && reading.quality() instanceof Quality.Suspect suspect
        ? Optional.of(suspect.reason())
        : Optional.empty();
  }

  private static Optional<AirEvent> ofDetector(
      VaporSensor.Pid pid, Instant time, List<Reading> readings) {
    Optional<Reading> own = named(readings, Series.ISOBUTYLENE);
    Optional<Reading> reading = own.or(() -> named(readings, Series.STYRENE_ESTIMATE));
    if (reading.isEmpty()) {
      return any(readings, OF_A_CHIP)
          ? wrongMode(time, "a metal-oxide chip's, and the mode is pid")
          : Optional.empty();
    }
    boolean atEnd =
        isAtEnd(reading.get())
            || named(readings, Series.PID_VOLTAGE).filter(AirEvents::isAtEnd).isPresent();
    Optional<AirEvent> nothing = nothing(time, reading.get());
    if (nothing.isPresent()) {
      return nothing;
    }
    if (doubt(reading.get(), atEnd).isPresent()) {
      return Optional.of(new AirEvent.Failed(time, reason(reading.get())));
    }
    double ppm = MILLION * reading.get().value().orElseThrow();
    return Optional.of(
        new AirEvent.Ppm(
            time,
            own.isPresent() ? ppm : ppm / pid.styreneFactor(),
            value(readings, Series.PID_VOLTAGE).orElse(ppm),
            atEnd));
  }

  private static boolean isAtEnd(Reading reading) {
    return reading.quality().equals(Quality.suspect(AT_END));
  }

  private static Optional<AirEvent> nothing(Instant time, Reading reading) {
    return reading.value().isEmpty() || reading.quality() instanceof Quality.Fault
        ? Optional.of(new AirEvent.Failed(time, reason(reading)))
        : Optional.empty();
  }

  private static Optional<AirEvent> wrongMode(Instant time, String what) {
    return Optional.of(
        new AirEvent.Failed(
            time, "its readings are " + what + ": choose the mode that fits the sensor"));
  }

  private static Optional<AirEvent.Climate> climate(List<Reading> readings) {
    OptionalDouble temperature = value(readings, Series.TEMPERATURE);
    OptionalDouble humidity = value(readings, Series.HUMIDITY);
    return temperature.isPresent() && humidity.isPresent()
        ? Optional.of(new AirEvent.Climate(temperature.getAsDouble(), humidity.getAsDouble()))
        : Optional.empty();
  }

  private static String reason(Reading reading) {
    if (reading.quality() instanceof Quality.Suspect suspect) {
      return suspect.reason();
    }
    return reading.quality() instanceof Quality.Fault fault ? fault.reason() : "no value";
  }

  private static boolean any(List<Reading> readings, List<String> names) {
    return readings.stream().anyMatch(one -> names.contains(one.name()));
  }

  private static OptionalDouble value(List<Reading> readings, String name) {
    return named(readings, name).map(Reading::value).orElse(OptionalDouble.empty());
  }

  private static Optional<Reading> named(List<Reading> readings, String name) {
    return readings.stream().filter(one -> one.name().equals(name)).findFirst();
  }
}
