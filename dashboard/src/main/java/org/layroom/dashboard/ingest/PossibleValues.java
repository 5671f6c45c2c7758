package org.layroom.dashboard.ingest;

import java.util.Locale;
import java.util.Optional;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Which values can be true. Air and pressure limits are the measuring range of the sensors (BME280
 * data sheet, table of operating conditions: -40 to 85 degC, 300 to 1100 hPa, from memory); mold
 * and resin may be hotter, as a curing cup is; the raw VOC signal has 16 bits.
 */
final class PossibleValues {
  /** Unknown records may be anything that adds up without overflow. */
  private static final double LARGEST_UNKNOWN = 1e15;

  private record Limits(double least, double most, String unit) {}

  private PossibleValues() {}

  /** The reason why this value cannot be true, in words; empty when it can. */
  static Optional<String> objection(Reading reading) {
    if (reading.value().isEmpty()) {
      return Optional.empty();
    }
    double value = reading.value().getAsDouble();
    Limits limits = limits(reading.name());
    if (!reading.unit().isEmpty()
        && !limits.unit().equals(ANY_UNIT)
        && !reading.unit().equals(limits.unit())) {
      return Optional.of(
          reading.name() + " in \"" + reading.unit() + "\": must be in \"" + limits.unit() + "\"");
    }
    if (value >= limits.least() && value <= limits.most()) {
      return Optional.empty();
    }
    return Optional.of(
        String.format(
            Locale.ROOT,
            "%s %s %s: must be %s to %s",
            reading.name(),
            value,
            reading.unit(),
            limits.least(),
            limits.most()));
  }

  private static final String ANY_UNIT = "any";

  private static Limits limits(String name) {
    if (name.startsWith(Series.MOLD_TEMPERATURE + "/")) {
      return limits(Series.MOLD_TEMPERATURE);
    }
    return switch (name) {
      case Series.TEMPERATURE -> new Limits(-40, 85, Series.CELSIUS);
      case Series.MOLD_TEMPERATURE, Series.RESIN_TEMPERATURE ->
          new Limits(-40, 250, Series.CELSIUS);
      case Series.HUMIDITY -> new Limits(0, 100, Series.RELATIVE_HUMIDITY);
      case Series.PRESSURE -> new Limits(30_000, 110_000, Series.PASCAL);
      case Series.VOC_RAW -> new Limits(0, 65_535, ANY_UNIT);
      case Series.VOC_LEVEL -> new Limits(0, 10_000, Series.RATIO);
      case Series.STYRENE_ESTIMATE -> new Limits(0, 1, Series.RATIO);
      default -> new Limits(-LARGEST_UNKNOWN, LARGEST_UNKNOWN, ANY_UNIT);
    };
  }
}
