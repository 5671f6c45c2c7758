package org.layroom.predictor.mix;

import java.time.Duration;
import java.util.Optional;

/**
 * A temperature and how old it is.
 *
 * @param temperatureC -40 to 60 degC
 * @param age where it was measured; empty where a person typed it just now
 */
public record AgedTemperature(double temperatureC, Optional<Duration> age) {
  public AgedTemperature {
    if (!(temperatureC >= -40 && temperatureC <= 60)) {
      throw new IllegalArgumentException(
          "temperature " + temperatureC + " °C must be between -40 and 60 degC");
    }
  }

  /** A temperature that a person typed just now. */
  public static AgedTemperature typed(double temperatureC) {
    return new AgedTemperature(temperatureC, Optional.empty());
  }

  /** A temperature that a sensor gave. */
  public static AgedTemperature measured(double temperatureC, Duration age) {
    return new AgedTemperature(temperatureC, Optional.of(age));
  }
}
