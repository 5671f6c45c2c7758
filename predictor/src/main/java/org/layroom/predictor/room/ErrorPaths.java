package org.layroom.predictor.room;

import java.util.Arrays;
import java.util.Random;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RectangularCholeskyDecomposition;

/**
 * Equally likely courses of a forecast's error as normal scores, one an hour: drawn from the
 * filter's own doubt, so that an error made in the evening lasts into the night as it does in this
 * room, then turned into exact normal scores hour by hour. Half of the paths mirror the other half.
 * The seed is fixed: same inputs, same digits.
 */
final class ErrorPaths {
  private static final double SMALLEST = 1e-12;

  private ErrorPaths() {}

  /**
   * Scores of {@code paths} paths, one row for each, from hour 0 to {@code hours}.
   *
   * @param paths even
   */
  static double[][] draw(RhythmFilter filter, int hours, int paths, long seed) {
    Random random = new Random(seed);
    double[][] raw = new double[paths][];
    double[][] root =
        new RectangularCholeskyDecomposition(
                MatrixUtils.createRealMatrix(filter.covariance()), SMALLEST)
            .getRootMatrix()
            .getData();
    for (int p = 0; p < paths; p += 2) {
      raw[p] = course(filter, root, hours, random);
      raw[p + 1] = Arrays.stream(raw[p]).map(v -> -v).toArray();
    }
    double[] scores = new double[paths];
    for (int rank = 0; rank < paths; rank++) {
      scores[rank] = NormalScores.quantile((rank + 0.5) / paths);
    }
    for (int h = 0; h <= hours; h++) {
      toScores(raw, h, scores);
    }
    return raw;
  }

  private static double[] course(RhythmFilter filter, double[][] root, int hours, Random random) {
    double[] state = new double[RhythmFilter.SIZE];
    for (int j = 0; j < root[0].length; j++) {
      double normal = random.nextGaussian();
      for (int i = 0; i < state.length; i++) {
        state[i] += root[i][j] * normal;
      }
    }
    double[] course = new double[hours + 1];
    for (int h = 0; h <= hours; h++) {
      for (int i = 0; i < state.length; i++) {
        course[h] += filter.weight(i, h * SlotSeries.PER_HOUR) * state[i];
      }
      for (int i = 0; i < RhythmFilter.FIRST_HARMONIC; i++) {
        state[i] =
            filter.power(i, SlotSeries.PER_HOUR) * state[i]
                + Math.sqrt(filter.gained(i, SlotSeries.PER_HOUR)) * random.nextGaussian();
      }
    }
    return course;
  }

  private static void toScores(double[][] raw, int hour, double[] scores) {
    Integer[] order = new Integer[raw.length];
    Arrays.setAll(order, p -> p);
    Arrays.sort(order, (a, b) -> Double.compare(raw[a][hour], raw[b][hour]));
    for (int rank = 0; rank < order.length; rank++) {
      raw[order[rank]][hour] = scores[rank];
    }
  }
}
