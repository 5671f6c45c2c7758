package org.layroom.predictor.cure;

/**
 * Earliest, likely and latest: the 10, 50 and 90 % points of what is believed. Positive infinity
 * means "not within the time looked at".
 *
 * @param p10 earliest
 * @param p50 likely, not below {@code p10}
 * @param p90 latest, not below {@code p50}
 */
public record Band(double p10, double p50, double p90) {
  public Band {
    if (!(p10 <= p50 && p50 <= p90)) {
      throw new IllegalArgumentException(
          "band " + p10 + ", " + p50 + ", " + p90 + " must be in rising order");
    }
  }

  /** The band in another unit, or as a multiple. */
  public Band times(double factor) {
    if (!(factor > 0)) {
      throw new IllegalArgumentException("factor " + factor + " must be above zero");
    }
    return new Band(p10 * factor, p50 * factor, p90 * factor);
  }

  /** The band moved to later, in its own unit. */
  public Band later(double by) {
    return new Band(p10 + by, p50 + by, p90 + by);
  }

  /** The band with what lies after a time turned to "not within the time looked at". */
  public Band cutAfter(double end) {
    return new Band(cut(p10, end), cut(p50, end), cut(p90, end));
  }

  private static double cut(double value, double end) {
    return value > end ? Double.POSITIVE_INFINITY : value;
  }
}
