package org.layroom.predictor.hardening;

import org.hipparchus.special.Erf;

/** The standard normal distribution as a hard-or-soft observation needs it. */
final class Probit {
  /** Below this the quotient of density and distribution is taken from its continued fraction. */
  private static final double TAIL = -4;

  private static final int TERMS = 80;

  private Probit() {}

  /** The standard normal distribution function. */
  static double share(double z) {
    return 0.5 * Erf.erfc(-z / StrictMath.sqrt(2));
  }

  /**
   * {@code phi(z) / Phi(z) + z}: how far the mean of a normal cut off at {@code -z} lies above the
   * cut. Far out in the lower tail by the continued fraction of Mills' ratio, where the quotient
   * itself would be zero by zero.
   */
  static double excess(double z) {
    if (z >= TAIL) {
      return density(z) / share(z) + z;
    }
    double x = -z;
    double fraction = x;
    for (int k = TERMS; k >= 2; k--) {
      fraction = x + k / fraction;
    }
    return 1 / fraction;
  }

  private static double density(double z) {
    return StrictMath.exp(-z * z / 2) / StrictMath.sqrt(2 * StrictMath.PI);
  }
}
