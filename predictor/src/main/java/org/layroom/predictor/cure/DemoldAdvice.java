package org.layroom.predictor.cure;

import org.layroom.predictor.limits.Words;

/** When a part may be hard enough to leave the mold, and when to test it, in words. */
final class DemoldAdvice {
  private DemoldAdvice() {}

  /**
   * The advice.
   *
   * @param from when it is hard, minutes after mixing
   */
  static String words(Band from) {
    if (from.p10() == Double.POSITIVE_INFINITY) {
      return "Not hard enough to leave the mold before it is warmed.";
    }
    String early = hours(from.p10());
    return "May be hard enough to leave the mold from "
        + early
        + ", "
        + (from.p50() == Double.POSITIVE_INFINITY
            ? "but likely only once it is warmed"
            : "likely "
                + hours(from.p50())
                + (from.p90() == Double.POSITIVE_INFINITY
                    ? "; one part in ten only once it is warmed"
                    : ", nine parts in ten by " + hours(from.p90())))
        + ". Test with a fingernail on the flange from "
        + early
        + " on: no mark, a hard sound when tapped, no give. Soft: warm it and test again.";
  }

  /** To the hour up to three days, to the day after. */
  private static String hours(double minutes) {
    double hours = minutes / 60;
    if (hours < 2) {
      return Words.minutes(10 * Math.rint(minutes / 10));
    }
    return hours < 72 ? Words.number(hours, 0) + " h" : Words.number(hours / 24, 0) + " days";
  }
}
