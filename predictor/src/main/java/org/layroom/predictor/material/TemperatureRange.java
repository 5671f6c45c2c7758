package org.layroom.predictor.material;

/**
 * The temperatures at which a material may be used.
 *
 * @param min coldest, degC
 * @param max warmest, degC, above {@code min}
 */
public record TemperatureRange(double min, double max) {
  public TemperatureRange {
    if (!(min >= -50 && max <= 200 && max > min)) {
      throw new IllegalArgumentException(
          "temperature range " + min + " to " + max + " °C must have the coldest first");
    }
  }

  /** Whether a temperature, degC, lies inside, the ends included. */
  public boolean contains(double temperatureC) {
    return temperatureC >= min && temperatureC <= max;
  }
}
