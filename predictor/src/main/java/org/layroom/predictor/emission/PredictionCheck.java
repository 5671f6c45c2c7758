package org.layroom.predictor.emission;

import org.layroom.predictor.limits.RangeCheck;

/**
 * A prediction beside what was measured afterward, with an instrument that says ppm as styrene. A
 * metal-oxide chip's level is no such measurement and is never compared.
 *
 * @param predictedPpm above zero
 * @param measuredPpm zero or more
 * @param measuredAtLeast true where time is missing or the sensor was at its end
 */
public record PredictionCheck(double predictedPpm, double measuredPpm, boolean measuredAtLeast) {
  private static final double EXPECTED_FACTOR = 2;

  public PredictionCheck {
    RangeCheck.positive("prediction", predictedPpm, 1e6, "ppm");
    RangeCheck.within("measurement", measuredPpm, 0, 1e6, "ppm");
  }

  /** Measured over predicted. */
  public double ratio() {
    return measuredPpm / predictedPpm;
  }

  /** What that says of the guesses behind the prediction. */
  public String words() {
    if (ratio() > EXPECTED_FACTOR) {
      return "More than twice the prediction: the room had less ventilation, or gave off more"
          + " vapor, than assumed. Measure the ventilation.";
    }
    if (measuredAtLeast) {
      return "Readings are missing for part of the time. The true figure is at least this.";
    }
    if (ratio() < 1 / EXPECTED_FACTOR) {
      return "Less than half the prediction. Do not count on it next time.";
    }
    return "Within a factor of two of the prediction, as stated.";
  }
}
