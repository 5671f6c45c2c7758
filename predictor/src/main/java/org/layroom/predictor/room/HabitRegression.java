package org.layroom.predictor.room;

import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * What this room adds to the filter's expectation at one lead: a ridge regression on {@link
 * Habits}, kept up to date forecast by forecast, with old ones slowly forgotten. There is one for
 * each of eight parts of the day, each learning a little from the others. Before it has learned
 * anything it takes 0.3 of the mean change of the last seven days.
 */
final class HabitRegression {
  private static final int PARTS = 8;
  private static final double HOURS_PER_PART = 24.0 / PARTS;
  private static final double WIDTH_HOURS = 2;
  private static final double FROM_OTHERS = 0.03;
  private static final double HALF_LIFE_DAYS = 90;
  private static final double FORGET = StrictMath.pow(0.5, 1 / (HALF_LIFE_DAYS * 24));

  /** Before anything is learned a habit's weight is doubtful by about 1 over the root of this. */
  private static final double STIFFNESS = 10;

  /** A habit further out than this many times its usual size is taken as no further. */
  private static final double FURTHEST = 4;

  private static final double FIRST_ERROR = 0.3;
  private static final double WEEK_WEIGHT = 0.3;

  private final double[][][] squares = new double[PARTS][Habits.SIZE][Habits.SIZE];
  private final double[][] products = new double[PARTS][Habits.SIZE];
  private final double[] size = new double[Habits.SIZE];
  private final double stiffness;
  private double sizeCount;
  private double errorSum = FIRST_ERROR * FIRST_ERROR * 10;
  private double errorCount = 10;

  HabitRegression(int lead) {
    stiffness = STIFFNESS * (1 + (double) lead / (6 * SlotSeries.PER_HOUR));
  }

  private static double hour(long slot) {
    return Math.floorMod(slot, (long) SlotSeries.PER_DAY) / (double) SlotSeries.PER_HOUR;
  }

  /**
   * Learns from a forecast made at a slot: its habits, and what was to be added to the filter's.
   */
  void learn(long slot, double[] habits, double truth, double answered) {
    double error = truth - answered;
    errorSum = FORGET * errorSum + error * error;
    errorCount = FORGET * errorCount + 1;
    double[] f = limited(habits);
    sizeCount = FORGET * sizeCount + 1;
    for (int i = 0; i < f.length; i++) {
      size[i] = FORGET * size[i] + f[i] * f[i];
    }
    for (int part = 0; part < PARTS; part++) {
      double apart = Math.abs(hour(slot) - part * HOURS_PER_PART);
      apart = Math.min(apart, 24 - apart) / WIDTH_HOURS;
      double weight = StrictMath.exp(-0.5 * apart * apart) + FROM_OTHERS;
      for (int i = 0; i < f.length; i++) {
        products[part][i] = FORGET * products[part][i] + weight * f[i] * truth;
        double[] row = squares[part][i];
        for (int j = 0; j <= i; j++) {
          row[j] = FORGET * row[j] + weight * f[i] * f[j];
        }
      }
    }
  }

  /** What to add to the filter's expectation, K. */
  double answer(long slot, double[] habits) {
    double[] weights = weights((int) Math.round(hour(slot) / HOURS_PER_PART) % PARTS);
    double[] f = limited(habits);
    double sum = 0;
    for (int i = 0; i < f.length; i++) {
      sum += weights[i] * f[i];
    }
    return sum;
  }

  private double[] weights(int part) {
    double ridge = Math.max(stiffness * errorSum / errorCount, 1e-6);
    RealMatrix normal = MatrixUtils.createRealMatrix(Habits.SIZE, Habits.SIZE);
    double[] right = products[part].clone();
    right[0] += ridge * WEEK_WEIGHT;
    for (int i = 0; i < Habits.SIZE; i++) {
      for (int j = 0; j <= i; j++) {
        double value = squares[part][i][j] + (i == j ? ridge : 0);
        normal.setEntry(i, j, value);
        normal.setEntry(j, i, value);
      }
    }
    return new CholeskyDecomposition(normal, 1e-9, 0)
        .getSolver()
        .solve(MatrixUtils.createRealVector(right))
        .toArray();
  }

  private double[] limited(double[] habits) {
    if (sizeCount < 24) {
      return habits;
    }
    double[] f = habits.clone();
    for (int i = 0; i < f.length; i++) {
      double limit = FURTHEST * Math.sqrt(size[i] / sizeCount);
      f[i] = Math.max(-limit, Math.min(limit, f[i]));
    }
    return f;
  }
}
