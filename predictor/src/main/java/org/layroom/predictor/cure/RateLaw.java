package org.layroom.predictor.cure;

/** How fast hardening runs at a temperature, against a reference temperature where it is 1. */
public sealed interface RateLaw
    permits ArrheniusRate, DegreeHourRate, ColdHourRate, SteepColdRate, QualityRate {
  /**
   * The rate, zero or more.
   *
   * @param temperatureC temperature, above -273 degC
   */
  double rate(double temperatureC);

  /**
   * How the rate changes with temperature, per K.
   *
   * @param temperatureC temperature, above -273 degC
   * @param rate the rate at this temperature, which the caller already has
   */
  double slope(double temperatureC, double rate);

  /** The second derivative of the rate, per K squared; arguments as for {@link #slope}. */
  double secondSlope(double temperatureC, double rate);

  /** The third derivative of the rate, per K cubed; arguments as for {@link #slope}. */
  double thirdSlope(double temperatureC, double rate);

  /** How many temperatures there are at which the law bends or jumps. */
  int kinks();

  /** The temperatures at which the law bends or jumps, degC, in any order. */
  double kinkC(int index);
}
