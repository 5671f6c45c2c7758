package org.layroom.predictor.calibration;

import java.time.Duration;
import org.layroom.predictor.cure.MaterialPosterior;

/**
 * How long a can has stood since it was last tested. Promoted resin usually gels later with age, as
 * the promoter loses activity (Composites Manufacturing, December 2006: published, without an
 * effect size); how much is chosen: 2 % a month likely, with a spread of 3 % a month, no more after
 * a year; twice that past the date on the can. A gel test resets it.
 *
 * @param months since the last gel test, zero or more
 * @param pastDate whether it is past the date on the can
 */
public record CanAge(double months, boolean pastDate) {
  private static final double DAYS_IN_A_MONTH = 365.25 / 12;
  private static final double LN_SLOWER_A_MONTH = 0.02;
  private static final double LN_SPREAD_A_MONTH = 0.03;
  private static final double MOST_MONTHS = 12;

  public CanAge {
    if (!(months >= 0 && months < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException("age " + months + " months must be zero or more");
    }
  }

  /** Tested now, or of unknown age. */
  public static CanAge fresh() {
    return new CanAge(0, false);
  }

  /** So long after its last gel test; whole days count, a time before it as none. */
  public static CanAge since(Duration age) {
    return new CanAge(Math.max(0, age.toDays() / DAYS_IN_A_MONTH), false);
  }

  /** What is believed of the can after that time. */
  MaterialPosterior of(MaterialPosterior tested) {
    if (months == 0) {
      return tested;
    }
    double counted = Math.min(MOST_MONTHS, months) * (pastDate ? 2 : 1);
    return tested.slower(LN_SLOWER_A_MONTH * counted).doubting(LN_SPREAD_A_MONTH * counted);
  }
}
