package org.layroom.device.demo;

import java.time.Instant;
import java.util.OptionalDouble;
import java.util.stream.Stream;

/**
 * One row of a recording, inside what the simulated chips can show. What is empty was not measured;
 * something was.
 *
 * @param temperatureC air, -40 to 125 degC (SHT4x), shown to 0.003
 * @param humidityPct 0 to 100 %, shown to 0.002
 * @param moldTemperatureC -55 to 125 degC (DS18B20), shown to 1/16; exactly 85 is the chip's
 *     power-on value and cannot be told from it
 * @param resinTemperatureC as the mold's
 * @param vocRaw 0 to 65534, shown as a whole number; 65535 is the sensor's clean end, a fault
 */
public record RecordedRow(
    Instant time,
    OptionalDouble temperatureC,
    OptionalDouble humidityPct,
    OptionalDouble moldTemperatureC,
    OptionalDouble resinTemperatureC,
    OptionalDouble vocRaw) {

  private static final double POWER_ON_C = 85;
  private static final double HALF_SIXTEENTH = 1.0 / 32;

  /**
   * Checks the row.
   *
   * @throws IllegalArgumentException when a chip cannot show a value; says which, and the range
   */
  public RecordedRow {
    if (Stream.of(temperatureC, humidityPct, moldTemperatureC, resinTemperatureC, vocRaw)
        .allMatch(OptionalDouble::isEmpty)) {
      throw new IllegalArgumentException(
          "no value that a replay can use: temperature, humidity, mold or resin temperature,"
              + " raw vapor signal");
    }
    temperatureC.ifPresent(v -> check("temperature", v, "degC", -40, 125));
    humidityPct.ifPresent(v -> check("humidity", v, "%", 0, 100));
    moldTemperatureC.ifPresent(v -> checkThermometer("mold temperature", v));
    resinTemperatureC.ifPresent(v -> checkThermometer("resin temperature", v));
    vocRaw.ifPresent(v -> check("raw vapor signal", v, "", 0, 65_534));
  }

  private static void checkThermometer(String what, double value) {
    check(what, value, "degC", -55, 125);
    if (Math.abs(value - POWER_ON_C) <= HALF_SIXTEENTH) {
      throw new IllegalArgumentException(
          what + " 85 °C is the sensor's power-on value; leave the cell empty");
    }
  }

  private static void check(String what, double value, String unit, double low, double high) {
    if (!(value >= low && value <= high)) {
      throw new IllegalArgumentException(
          "%s %s %s is outside the sensor's range, %.0f to %.0f %s"
              .formatted(what, value, unit, low, high, unit)
              .strip());
    }
  }
}
