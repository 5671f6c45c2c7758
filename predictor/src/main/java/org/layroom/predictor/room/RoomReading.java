package org.layroom.predictor.room;

import java.time.Instant;
import java.util.OptionalDouble;

/**
 * What the room's instruments showed at one time; what was not read stays empty.
 *
 * @param time of the reading
 * @param airC air temperature, -40 to 60 degC
 * @param humidityPct relative humidity, above 0 up to 100 %
 * @param moldC temperature of the mold surface, -40 to 150 degC
 */
public record RoomReading(
    Instant time, OptionalDouble airC, OptionalDouble humidityPct, OptionalDouble moldC) {
  /**
   * @throws IllegalArgumentException when a value is outside its range
   */
  public RoomReading {
    airC.ifPresent(v -> requireRange("air temperature", v, -40, 60, "degC"));
    humidityPct.ifPresent(v -> requireRange("relative humidity", v, Double.MIN_VALUE, 100, "%"));
    moldC.ifPresent(v -> requireRange("mold temperature", v, -40, 150, "degC"));
  }

  /** A reading of the air's temperature alone, degC. */
  public static RoomReading air(Instant time, double airC) {
    return new RoomReading(
        time, OptionalDouble.of(airC), OptionalDouble.empty(), OptionalDouble.empty());
  }

  static void requireRange(String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      throw new IllegalArgumentException(
          what
              + " "
              + value
              + " "
              + unit
              + " must be between "
              + (min == Double.MIN_VALUE ? "0" : Double.toString(min))
              + " and "
              + max
              + " "
              + unit);
    }
  }
}
