package org.layroom.predictor.hardening;

/**
 * What is believed of a part's demold hours before anything was learned in this shop.
 *
 * @param lnHours logarithm of the likely hours at 20 degC
 * @param canSdLn how far cans lie apart, which outcomes narrow; above zero
 * @param partSdLn how far parts of one can lie apart because of their thickness, which they do not
 */
public record PriorHours(double lnHours, double canSdLn, double partSdLn) {
  public PriorHours {
    if (!(canSdLn > 0 && partSdLn >= 0) || !Double.isFinite(lnHours)) {
      throw new IllegalArgumentException(
          "demold hours: " + lnHours + ", spreads " + canSdLn + " and " + partSdLn);
    }
  }

  /** The belief about this part with what its shop and can have taught. */
  public DemoldBelief with(Learned learned) {
    double can = canSdLn * learned.sd();
    return new DemoldBelief(lnHours + canSdLn * learned.mean(), StrictMath.hypot(can, partSdLn));
  }
}
