package org.layroom.device.telemetry;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One named value of one moment.
 *
 * @param name below the device's base name, such as {@code temperature} or {@code
 *     mold-temperature/fender}
 * @param unit SenML unit, such as {@code Cel}, {@code %RH}, {@code Pa}, {@code /}; empty when none
 * @param value the number; empty for a text record, and always for a fault
 * @param text the text or true/false of a record that has no number
 */
public record Reading(
    String name, String unit, OptionalDouble value, Optional<String> text, Quality quality) {

  public static Reading of(String name, String unit, double value) {
    return of(name, unit, value, Quality.good());
  }

  public static Reading of(String name, String unit, double value, Quality quality) {
    return new Reading(name, unit, OptionalDouble.of(value), Optional.empty(), quality);
  }

  /** A sensor that should have answered and gave no value to believe. */
  public static Reading missing(String name, String unit, String reason) {
    return new Reading(name, unit, OptionalDouble.empty(), Optional.empty(), Quality.fault(reason));
  }
}
