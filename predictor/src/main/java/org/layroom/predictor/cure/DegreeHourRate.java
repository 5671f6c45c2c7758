package org.layroom.predictor.cure;

/**
 * Degree-hour (Nurse-Saul) rate: {@code r(T) = max(0, T - T0) / (Tr - T0)}.
 *
 * @param datumC T0, below which nothing is counted, degC
 * @param referenceC Tr, at which the rate is 1, degC, above the datum
 */
public record DegreeHourRate(double datumC, double referenceC) implements RateLaw {
  public DegreeHourRate {
    if (!(referenceC > datumC) || !Double.isFinite(referenceC - datumC)) {
      throw new IllegalArgumentException(
          "datum " + datumC + " °C must be below the reference " + referenceC + " degC");
    }
  }

  /** The rate in plain degrees above the datum: its integral over hours is degree-hours. */
  public static DegreeHourRate degreesAbove(double datumC) {
    return new DegreeHourRate(datumC, datumC + 1);
  }

  @Override
  public double rate(double temperatureC) {
    return Math.max(0, temperatureC - datumC) / (referenceC - datumC);
  }

  @Override
  public double slope(double temperatureC, double rate) {
    return temperatureC > datumC ? 1 / (referenceC - datumC) : 0;
  }

  @Override
  public double secondSlope(double temperatureC, double rate) {
    return 0;
  }

  @Override
  public double thirdSlope(double temperatureC, double rate) {
    return 0;
  }

  @Override
  public int kinks() {
    return 1;
  }

  @Override
  public double kinkC(int index) {
    return datumC;
  }
}
