package org.layroom.predictor.mix;

import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.material.Material;

/**
 * The catalyst of one cup as it can be measured.
 *
 * @param grams g
 * @param ml as the syringe shows it; empty when the bottle's density is unknown
 * @param doseByWeightPct what that makes, % by weight
 */
record Syringe(double grams, OptionalDouble ml, double doseByWeightPct) {
  private static final double SCALE_STEP_GRAMS = 0.1;

  /** The nearest mark inside the limits; empty when there is none. */
  static Optional<Syringe> round(
      MixQuestion question, double pct, double cupGrams, double lowestPct) {
    Material can = question.material();
    boolean inMl =
        can.catalystDensityKgPerL().isPresent()
            || question.bottle().gelTest() == CatalystBottle.Tested.GELLED;
    double density = can.catalystDensityKgPerLOrTypical();
    double gramsPerStep = inMl ? question.tools().syringeStepMl() * density : SCALE_STEP_GRAMS;
    double steps = cupGrams * pct / 100 / gramsPerStep;
    for (double mark : new double[] {Math.rint(steps), Math.ceil(steps), Math.floor(steps)}) {
      double grams = mark * gramsPerStep;
      double rounded = 100 * grams / cupGrams;
      if (mark > 0
          && rounded >= lowestPct - 1e-9
          && rounded <= can.doseByWeightPct().max() + 1e-9) {
        OptionalDouble ml =
            inMl
                ? OptionalDouble.of(mark * question.tools().syringeStepMl())
                : OptionalDouble.empty();
        return Optional.of(new Syringe(grams, ml, rounded));
      }
    }
    return Optional.empty();
  }
}
