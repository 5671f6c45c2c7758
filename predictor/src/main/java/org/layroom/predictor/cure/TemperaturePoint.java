package org.layroom.predictor.cure;

/**
 * A temperature at a time.
 *
 * @param minutes after mixing; zero or more in a path
 * @param temperatureC -60 to 200 degC
 */
public record TemperaturePoint(double minutes, double temperatureC) {
  public TemperaturePoint {
    if (!Double.isFinite(minutes)) {
      throw new IllegalArgumentException("time " + minutes + " min must be finite");
    }
    if (!(temperatureC >= -60 && temperatureC <= 200)) {
      throw new IllegalArgumentException(
          "temperature " + temperatureC + " °C must be between -60 and 200 degC");
    }
  }
}
