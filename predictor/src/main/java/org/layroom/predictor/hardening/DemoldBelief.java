package org.layroom.predictor.hardening;

/**
 * What is believed about the hours at 20 degC until a part is hard enough to leave the mold: their
 * logarithm is normal. A part found hard or soft is a probit observation; the belief after it is
 * the normal with the exact mean and variance of the true posterior (moment matching, as in
 * assumed-density filtering). No observation widens the belief. The moments are not exactly
 * commutative: apply observations in the order of the part's age.
 *
 * @param lnHours mean of the logarithm of the hours
 * @param sdLn standard deviation of the logarithm, zero or more
 */
public record DemoldBelief(double lnHours, double sdLn) {
  /** Median of small parts of any can at 20 degC, h: chosen inside the published 3 to 48 h. */
  public static final double MEDIAN_HOURS = 12;

  /**
   * Standard deviation of the logarithm for a can that nothing is known of (chosen: nine published
   * times have 1.07, but they mix criteria; one criterion on one kind of part is narrower).
   */
  public static final double SD_LN = 0.70;

  /** The same where the data sheet claims a time (chosen). */
  public static final double SD_LN_CLAIMED = 0.50;

  private static final double Z90 = 1.2815515655446004;

  public DemoldBelief {
    if (!(sdLn >= 0 && sdLn < 10) || !Double.isFinite(lnHours)) {
      throw new IllegalArgumentException(
          "demold belief: mean " + lnHours + " and spread " + sdLn + " of a logarithm of hours");
    }
  }

  /** A small thin part of a can that nothing is known of, gelling in 20 min at 20 degC. */
  public static DemoldBelief untested() {
    return new DemoldBelief(StrictMath.log(MEDIAN_HOURS), SD_LN);
  }

  /** Hours at 20 degC by which half of such parts are hard. */
  public double medianHours() {
    return StrictMath.exp(lnHours);
  }

  /** Hours at 20 degC by which one part in ten is hard. */
  public double earliestHours() {
    return StrictMath.exp(lnHours - Z90 * sdLn);
  }

  /** Hours at 20 degC by which nine parts in ten are hard. */
  public double latestHours() {
    return StrictMath.exp(lnHours + Z90 * sdLn);
  }

  /**
   * Chance that a part is judged hard at an age.
   *
   * @param hours equivalent hours at 20 degC, above zero
   * @param criterionSdLn how far judgments differ, zero or more
   */
  public double chanceHardAt(double hours, double criterionSdLn) {
    double spread = StrictMath.hypot(sdLn, criterionSdLn);
    return Probit.share((StrictMath.log(hours) - lnHours) / spread);
  }

  /** The belief after a part was seen. */
  public DemoldBelief observing(HardnessSeen seen) {
    if (seen instanceof HardnessSeen.Judged judged) {
      return judged(judged);
    }
    if (seen instanceof HardnessSeen.Measured measured) {
      return measured(measured);
    }
    throw new IllegalArgumentException("unknown observation " + seen);
  }

  private DemoldBelief judged(HardnessSeen.Judged seen) {
    double variance = sdLn * sdLn;
    double total = variance + seen.sdLn() * seen.sdLn();
    double spread = StrictMath.sqrt(total);
    double sign = seen.hard() ? 1 : -1;
    double z = sign * (StrictMath.log(seen.hours()) - lnHours) / spread;
    double excess = Probit.excess(z);
    double nu = excess - z;
    double left = variance - variance * variance * nu * excess / total;
    return new DemoldBelief(
        lnHours - sign * variance * nu / spread, StrictMath.sqrt(Math.max(0, left)));
  }

  private DemoldBelief measured(HardnessSeen.Measured seen) {
    double variance = sdLn * sdLn;
    double gain = variance / (variance + seen.sdLn() * seen.sdLn());
    return new DemoldBelief(
        lnHours + gain * (seen.lnDemoldHours() - lnHours), sdLn * StrictMath.sqrt(1 - gain));
  }
}
