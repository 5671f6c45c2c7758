package org.layroom.predictor.material;

/**
 * The catalyst dose that the can allows.
 *
 * @param min lowest dose, % by weight, above 0
 * @param max highest dose, % by weight, not below {@code min}
 */
public record DoseRange(double min, double max) {
  public DoseRange {
    if (!(min > 0 && max >= min && max <= 100)) {
      throw new IllegalArgumentException(
          "dose range " + min + " to " + max + " % must be above 0 %, lowest first");
    }
  }

  /** Whether a dose, % by weight, lies inside, the ends included. */
  public boolean contains(double doseByWeightPct) {
    return doseByWeightPct >= min && doseByWeightPct <= max;
  }
}
