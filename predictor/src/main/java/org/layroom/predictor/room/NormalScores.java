package org.layroom.predictor.room;

import org.hipparchus.special.Erf;

/** The standard normal distribution, from Hipparchus' error function. */
final class NormalScores {
  private static final double ROOT_TWO = Math.sqrt(2);

  private NormalScores() {}

  /** The value below which a share lies. */
  static double quantile(double share) {
    return ROOT_TWO * Erf.erfInv(2 * share - 1);
  }

  /** The share below a value. */
  static double share(double score) {
    return 0.5 * Erf.erfc(-score / ROOT_TWO);
  }
}
