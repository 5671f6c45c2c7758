package org.layroom.device.startup;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
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
 * @param well whether every part that was found or named works
 */
record WiringCheck(List<String> lines, boolean well) {
  /** What a room wants measured, and where Layroom looks for it. */
  private static final Map<String, String> WANTED =
      new TreeMap<>(
          Map.of(
              Series.TEMPERATURE,
              "no air sensor: SHT4x at 0x44 or 0x45, BME280 at 0x76 or 0x77",
              Series.MOLD_TEMPERATURE,
              "no mold thermometer: DS18B20 on GPIO 4",
              Series.VOC_RAW,
              "no vapor sensor: SGP40 at 0x59; air is unknown unless a calibrated PID module"
                  + " answers at 0x48 to 0x4b"));

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

  /** Reads each part once; takes 1 to 3 s on the caller's thread. */
  static WiringCheck of(FittedSensors fitted, Pace pace) {
    List<? extends Sensor> parts = fitted.get();
    List<String> lines = new ArrayList<>();
    parts.stream()
        .filter(p -> !p.series().isEmpty())
        .forEach(p -> lines.add(("found  " + p.name() + " " + fitted.place(p)).strip()));
    List<Sample> samples = new ArrayList<>();
    new Sampler(pace, () -> parts, samples::add).sampleOnce();
    Sample sampled = samples.get(0);
    sampled.readings().forEach(reading -> lines.add("reads  " + words(reading)));
    sampled.faults().forEach(f -> lines.add("fault  " + f.part() + ": " + f.reason()));
    WANTED.forEach(
        (series, words) -> {
          if (parts.stream().noneMatch(part -> gives(part, series))) {
            lines.add("none   " + words);
          }
        });
    return new WiringCheck(lines, sampled.faults().isEmpty());
  }

  private static boolean gives(Sensor part, String series) {
    return part.series().stream()
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
