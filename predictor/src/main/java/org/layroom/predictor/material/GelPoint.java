package org.layroom.predictor.material;

/**
 * One gel time from a data sheet or a can.
 *
 * @param minutes gel time, above 0 minutes
 * @param temperatureC temperature of the test, -20 to 100 degC
 * @param doseByWeightPct catalyst, % of the material's weight, above 0 and up to 10
 */
public record GelPoint(double minutes, double temperatureC, double doseByWeightPct) {
  public GelPoint {
    if (!(minutes > 0 && minutes <= 10_000)) {
      throw new IllegalArgumentException(
          "gel time " + minutes + " min must be above 0 and at most 10000 min");
    }
    if (!(temperatureC >= -20 && temperatureC <= 100)) {
      throw new IllegalArgumentException(
          "gel temperature " + temperatureC + " °C must be between -20 and 100 degC");
    }
    if (!(doseByWeightPct > 0 && doseByWeightPct <= 10)) {
      throw new IllegalArgumentException(
          "dose " + doseByWeightPct + " % by weight must be above 0 and at most 10 %");
    }
  }
}
