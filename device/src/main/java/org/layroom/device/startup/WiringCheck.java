package org.layroom.device.startup;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.layroom.device.fitting.ChipCatalog;
import org.layroom.device.fitting.FittedSensors;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * One look at everything that is wired, in words for the person who has just wired it. Nothing is
 * kept or sent.
 *
 * @param lines found, reads, fault, none: one a line
 * @param well whether every sensor that was found or named works
 */
record WiringCheck(List<String> lines, boolean well) {
  /**
   * What a room wants measured.
   *
   * @param lacking what to say where nothing gives the series; what gives it is said after
   */
  private record Wanted(String series, String lacking, String after) {}

  private static List<Wanted> wanted(ChipCatalog catalog) {
    return List.of(
        new Wanted(Series.MOLD_TEMPERATURE, "no mold thermometer: ", ""),
        new Wanted(Series.TEMPERATURE, "no air sensor: ", ""),
        new Wanted(
            Series.VOC_RAW,
            "no vapor sensor: ",
            "; air is unknown unless a calibrated PID module answers "
                + catalog.where(Series.ISOBUTYLENE)));
  }

  private static final String LINES_STAY =
      "note   if a program is killed, this Pi's kernel leaves lamps, buzzer and fan as they are"
          + " until the service switches them off. To make them switch off on their own, add"
          + " dtparam=strict_gpiod to /boot/firmware/config.txt and restart the Pi";

  WiringCheck {
    lines = List.copyOf(lines);
  }

  /** The same, with a word on lines that stay on when their program is gone. */
  WiringCheck withLinesThatStay() {
    List<String> more = new ArrayList<>(lines);
    more.add(LINES_STAY);
    return new WiringCheck(more, well);
  }

  /** Reads each sensor once; takes 1 to 3 s on the caller's thread. */
  static WiringCheck of(FittedSensors fitted, Pace pace) {
    List<? extends Sensor> sensors = fitted.get();
    List<String> lines = new ArrayList<>();
    sensors.stream()
        .filter(sensor -> !sensor.series().isEmpty())
        .forEach(
            sensor -> lines.add(("found  " + sensor.name() + " " + fitted.place(sensor)).strip()));
    List<Sample> samples = new ArrayList<>();
    new Sampler(pace, () -> sensors, samples::add).sampleOnce();
    Sample sampled = samples.get(0);
    sampled.readings().forEach(reading -> lines.add("reads  " + words(reading)));
    sampled.faults().forEach(f -> lines.add("fault  " + f.part() + ": " + f.reason()));
    for (Wanted wanted : wanted(fitted.catalog())) {
      if (sensors.stream().noneMatch(sensor -> gives(sensor, wanted.series()))) {
        lines.add(
            "none   "
                + wanted.lacking()
                + fitted.catalog().givers(wanted.series())
                + wanted.after());
      }
    }
    return new WiringCheck(lines, sampled.faults().isEmpty());
  }

  private static boolean gives(Sensor sensor, String series) {
    return sensor.series().stream()
        .anyMatch(s -> s.name().equals(series) || s.name().startsWith(series + "/"));
  }

  private static String words(Reading reading) {
    OptionalDouble value = reading.value();
    String doubt = reading.quality().isGood() ? "" : " (" + reading.quality().words() + ")";
    return value.isEmpty()
        ? reading.name() + ": no value" + doubt
        : String.format(
            Locale.ROOT,
            "%s: %.2f %s%s",
            reading.name(),
            value.getAsDouble(),
            unit(reading.unit()),
            doubt);
  }

  private static String unit(String senml) {
    return switch (senml) {
      case Series.CELSIUS -> "degC";
      case Series.RELATIVE_HUMIDITY -> "%";
      default -> senml;
    };
  }
}
