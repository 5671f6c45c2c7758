package org.layroom.predictor.room;

/**
 * How the last hours went against what was foreseen: after a surprise the band widens at once, and
 * comes back over about a day.
 */
final class RecentSurprise {
  private static final double FORGET = StrictMath.pow(0.5, 1 / 12.0);
  private static final double USUAL = 6;
  private static final int KNOTS = 2;

  private double sum = USUAL;
  private double count = USUAL;

  /** Takes in an absolute error in multiples of the foreseen size. */
  void learn(int knot, double ratio) {
    if (knot < KNOTS) {
      sum = FORGET * (sum - USUAL) + Math.min(ratio, 10) + USUAL;
      count = FORGET * (count - USUAL) + 1 + USUAL;
    }
  }

  /** What to widen the band by. */
  double factor(int knot) {
    return Math.sqrt(sum / count);
  }
}
