package org.layroom.device;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Part;
import org.layroom.device.sampling.Sampled;
import org.layroom.device.sampling.Sampler;
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
              "no vapor sensor: SGP40 at 0x59; the air stays unknown, unless a calibrated PID"
                  + " module answers at 0x48 to 0x4b"));

  private static final String LINES_STAY =
      "note   this Pi's kernel leaves lamps, buzzer and fan as they are when a program is killed. The"
          + " service then switches them off; so that they fall off by themselves too, write"
          + " dtparam=strict_gpiod into /boot/firmware/config.txt and start the Pi anew";

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
  static WiringCheck of(FittedParts fitted, Pace pace) {
    List<? extends Part> parts = fitted.get();
    List<String> lines = new ArrayList<>();
    parts.stream()
        .filter(p -> !p.series().isEmpty())
        .forEach(p -> lines.add(("found  " + p.name() + " " + fitted.place(p)).strip()));
    List<Sampled> samples = new ArrayList<>();
    new Sampler(pace, () -> parts, samples::add).sampleOnce();
    Sampled sampled = samples.get(0);
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

  private static boolean gives(Part part, String series) {
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
