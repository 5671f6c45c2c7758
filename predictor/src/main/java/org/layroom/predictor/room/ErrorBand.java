package org.layroom.predictor.room;

import java.util.Arrays;

/**
 * How wrong the forecasts at one lead have been here, as multiples of what the filter expected of
 * itself: the size by part of the day, and the shape from the last four weeks. Before there are
 * errors of this room, a normal shape stands in.
 */
final class ErrorBand {
  private static final int PARTS = 8;
  private static final int SHAPE = 672;
  private static final double FORGET = StrictMath.pow(0.5, 1 / (20.0 * 24));
  private static final double OWN = 5;

  /** Mean of the absolute value of a standard normal. */
  static final double MEAN_ABSOLUTE = Math.sqrt(2 / Math.PI);

  private final double[] sum = new double[PARTS];
  private final double[] count = new double[PARTS];
  private final double[] shape = new double[SHAPE];
  private int next;

  ErrorBand() {
    for (int i = 0; i < SHAPE; i++) {
      double share = ((i * 389L) % SHAPE + 0.5) / SHAPE;
      shape[i] = NormalScores.quantile(0.5 + share / 2) / MEAN_ABSOLUTE;
    }
  }

  private static int part(long slot) {
    return (int) (Math.floorMod(slot, (long) SlotSeries.PER_DAY) * PARTS / SlotSeries.PER_DAY);
  }

  /**
   * Mean absolute error at a time of day in multiples of the filter's doubt.
   *
   * @param supposed what to suppose before anything is known here
   * @param weight how many errors that supposition is worth
   */
  double size(long slot, double supposed, double weight) {
    double others = 0;
    double othersCount = 0;
    for (int p = 0; p < PARTS; p++) {
      others += sum[p];
      othersCount += count[p];
    }
    double all = (weight * supposed + others) / (weight + othersCount);
    int part = part(slot);
    return (OWN * all + sum[part]) / (OWN + count[part]);
  }

  /** Takes in an error in multiples of the filter's doubt, and its size that was foreseen. */
  void learn(long slot, double error, double foreseen) {
    double absolute = Math.abs(error);
    for (int p = 0; p < PARTS; p++) {
      sum[p] *= FORGET;
      count[p] *= FORGET;
    }
    sum[part(slot)] += absolute;
    count[part(slot)]++;
    shape[next] = absolute / foreseen;
    next = (next + 1) % SHAPE;
  }

  /** The shape in rising order, in multiples of the mean absolute error. */
  double[] sortedShape() {
    double[] sorted = shape.clone();
    Arrays.sort(sorted);
    return sorted;
  }

  /** The value below which a share of the absolute errors lies. */
  static double quantile(double[] sortedShape, double share) {
    double at = share * sortedShape.length - 0.5;
    int below = (int) Math.floor(at);
    if (below < 0) {
      return sortedShape[0];
    }
    if (below >= sortedShape.length - 1) {
      return sortedShape[sortedShape.length - 1];
    }
    return sortedShape[below] + (at - below) * (sortedShape[below + 1] - sortedShape[below]);
  }
}
