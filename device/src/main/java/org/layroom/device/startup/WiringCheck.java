package org.layroom.device.startup;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import org.layroom.device.chip.ChipRead;
import org.layroom.device.fitting.ChipCatalog;
import org.layroom.device.fitting.FittedSensors;
import org.layroom.device.pace.Pace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.sampling.Sampler;
import org.layroom.device.sampling.Sensor;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * One look at everything that is wired, in words for the person who has just wired it. Nothing is
 * kept or sent.
 *
 * @param lines found, missing, reads, waits, fault, none, guess, paste, note: one a line
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

  private static final String FAN_FALLS =
      "note   this kernel lets lines fall when the program ends, so the fan goes off whatever"
          + " fan.when-stopped says; without dtparam=strict_gpiod a Pi's own kernel does not";

  private static final String WIRES_SWAPPED =
      "guess  nothing answers on I2C at all: SDA and SCL may be swapped (pin 3 is SDA, pin 5 is"
          + " SCL), or 3.3 V (pin 1) or ground (pin 9) does not reach the sensors";

  private static final String WARMING_UP = "warming up";
  private static final String NO_ANSWER = "does not answer";

  WiringCheck {
    lines = List.copyOf(lines);
  }

  /** The same, with a word on lines that stay on when their program is gone. */
  WiringCheck withLinesThatStay() {
    return with(List.of(LINES_STAY));
  }

  /** The same, with a word on a kernel that does not keep the fan's line as it was. */
  WiringCheck withAFanThatFalls() {
    return with(List.of(FAN_FALLS));
  }

  /** The same with more lines; one that begins with fault is one. */
  WiringCheck with(List<String> others) {
    List<String> more = new ArrayList<>(lines);
    more.addAll(others);
    return new WiringCheck(
        more, well && others.stream().noneMatch(line -> line.startsWith("fault")));
  }

  /** Reads each sensor once; takes 1 to 3 s on the caller's thread. */
  static WiringCheck of(FittedSensors fitted, Pace pace) {
    List<? extends Sensor> sensors = fitted.get();
    List<Sample> samples = new ArrayList<>();
    new Sampler(pace, () -> sensors, samples::add).sampleOnce();
    Sample sampled = samples.get(0);
    Set<String> absent =
        sampled.faults().stream()
            .filter(fault -> fault.reason().contains(NO_ANSWER))
            .map(PartFault::part)
            .collect(Collectors.toSet());
    List<String> lines = new ArrayList<>();
    sensors.stream()
        .filter(sensor -> !sensor.series().isEmpty())
        .forEach(
            sensor ->
                lines.add(
                    ((absent.contains(sensor.name()) ? "missing " : "found  ")
                            + sensor.name()
                            + " "
                            + fitted.place(sensor))
                        .strip()));
    sampled.readings().forEach(reading -> lines.add(words(reading)));
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
    if (fitted.allOfI2cIsSilent()) {
      lines.add(WIRES_SWAPPED);
    }
    lines.addAll(toName(fitted));
    return new WiringCheck(lines, sampled.faults().isEmpty());
  }

  /** What thermometers without a role read now, so that a warm hand tells which is which. */
  private static List<String> toName(FittedSensors fitted) {
    List<String> lines = new ArrayList<>();
    fitted
        .namelessThermometers()
        .forEach(
            (id, read) ->
                lines.add(
                    read instanceof ChipRead.Value<Double> value
                        ? String.format(
                            Locale.ROOT, "reads  thermometer %s: %.2f °C", id, value.value())
                        : "fault  thermometer " + id + " gives no value"));
    if (!lines.isEmpty()) {
      lines.add("paste  one of these lines for each thermometer into the settings:");
    }
    fitted
        .namelessThermometers()
        .keySet()
        .forEach(
            id -> {
              lines.add("paste  mold.sensor=" + id);
              lines.add("paste  resin.sensor=" + id);
            });
    return lines;
  }

  private static boolean gives(Sensor sensor, String series) {
    return sensor.series().stream()
        .anyMatch(s -> s.name().equals(series) || s.name().startsWith(series + "/"));
  }

  private static String words(Reading reading) {
    OptionalDouble value = reading.value();
    if (value.isEmpty() && reading.quality().words().contains(WARMING_UP)) {
      return "waits  " + reading.name() + ": the first 60 s after power-on are not used";
    }
    String doubt = reading.quality().isGood() ? "" : " (" + reading.quality().words() + ")";
    return value.isEmpty()
        ? "reads  " + reading.name() + ": no value" + doubt
        : String.format(
            Locale.ROOT,
            "reads  %s: %.2f %s%s",
            reading.name(),
            value.getAsDouble(),
            unit(reading.unit()),
            doubt);
  }

  private static String unit(String senml) {
    return switch (senml) {
      case Series.CELSIUS -> "°C";
      case Series.RELATIVE_HUMIDITY -> "%";
      default -> senml;
    };
  }
}
