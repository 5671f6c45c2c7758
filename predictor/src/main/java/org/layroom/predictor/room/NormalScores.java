package org.layroom.predictor.room;

import org.hipparchus.special.Erf;

/** The standard normal distribution, from Hipparchus' error function. */
final class NormalScores {
  private static final double ROOT_TWO = Math.sqrt(2);
  private static final int PER_UNIT = 128;
  private static final double[] WITHIN = within();

  private NormalScores() {}

  /** The value below which a share lies. */
  static double quantile(double share) {
    return ROOT_TWO * Erf.erfInv(2 * share - 1);
  }

  /**
   * The share between minus and plus a value, from a table with straight lines between its points:
   * right to 1e-5.
   *
   * @param score zero or more
   */
  static double shareWithin(double score) {
    double at = Math.min(score * PER_UNIT, WITHIN.length - 1.001);
    int below = (int) at;
    return WITHIN[below] + (at - below) * (WITHIN[below + 1] - WITHIN[below]);
  }

  private static double[] within() {
    double[] table = new double[6 * PER_UNIT + 1];
    for (int i = 0; i < table.length; i++) {
      table[i] = Erf.erf((double) i / PER_UNIT / ROOT_TWO);
    }
    return table;
  }
}
