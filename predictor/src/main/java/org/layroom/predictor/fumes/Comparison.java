package org.layroom.predictor.fumes;

/**
 * A prediction beside what was measured afterward, with an instrument that says ppm as styrene. A
 * metal-oxide chip's level is no such measurement and is never compared.
 *
 * @param predictedPpm above zero
 * @param measuredPpm zero or more
 * @param measuredAtLeast true where time is missing or the sensor was at its end
 */
public record Comparison(double predictedPpm, double measuredPpm, boolean measuredAtLeast) {
  private static final double EXPECTED_FACTOR = 2;

  public Comparison {
    Checks.positive("prediction", predictedPpm, 1e6, "ppm");
    Checks.within("measurement", measuredPpm, 0, 1e6, "ppm");
  }

  /** Measured over predicted. */
  public double ratio() {
    return measuredPpm / predictedPpm;
  }

  /** What that says of the guesses behind the prediction. */
  public String words() {
    if (ratio() > EXPECTED_FACTOR) {
      return "More than twice what was predicted: less air is changed, or more vapor given off, than"
          + " was guessed. Measure the air changes.";
    }
    if (measuredAtLeast) {
      return "Part of the time is missing, so nothing can be said but that it was at least this.";
    }
    if (ratio() < 1 / EXPECTED_FACTOR) {
      return "Less than half of what was predicted. Do not count on it the next time.";
    }
    return "Within the factor of two that was promised.";
  }
}
