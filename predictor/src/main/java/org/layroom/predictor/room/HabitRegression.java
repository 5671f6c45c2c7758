package org.layroom.predictor.room;

import java.util.Arrays;
import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * What this room adds to the filter's expectation at one lead: a ridge regression on {@link
 * HabitFeatures}, kept up to date forecast by forecast, with old ones slowly forgotten. There is
 * one for each of eight parts of the day, each learning a little from the others. Before it has
 * learned anything it leans on the mean change of the last seven days for short leads and on the
 * same time yesterday for long ones.
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

  private static final double ENOUGH = 24;

  private static final double LEAST_VARIANCE = 0.05 * 0.05;
  private static final double FIRST_ERROR = 0.3;
  private static final double WEEK_WEIGHT = 0.3;
  private static final double YESTERDAY_WEIGHT = 0.5;

  /** Forecasts an hour apart are more alike the longer they reach, and teach less. */
  private static final double ALIKE_SLOTS = 2.0 * SlotSeries.PER_HOUR;

  private static final long KEPT_SLOTS = 3L * SlotSeries.PER_HOUR;

  private static final long DAY = SlotSeries.PER_DAY;
  private static final double[][] NEARNESS = nearness();

  private double[] kept = new double[HabitFeatures.SIZE];
  private int keptPart = -1;
  private long keptSince;
  private final double[][][] squares = new double[PARTS][HabitFeatures.SIZE][HabitFeatures.SIZE];
  private final double[][] products = new double[PARTS][HabitFeatures.SIZE];
  private final double weekWeight;
  private final double yesterdayWeight;
  private final double stiffness;
  private final double[] size = new double[HabitFeatures.SIZE];
  private final double[] known = new double[HabitFeatures.SIZE];
  private final double[] errorSum = new double[PARTS];
  private final double[] errorCount = new double[PARTS];

  HabitRegression(int lead) {
    double days = Math.min(1, (double) lead / SlotSeries.PER_DAY);
    weekWeight = WEEK_WEIGHT * (1 - days);
    yesterdayWeight = YESTERDAY_WEIGHT * days;
    stiffness = STIFFNESS * (1 + lead / ALIKE_SLOTS);
    Arrays.fill(errorSum, FIRST_ERROR * FIRST_ERROR * 10);
    Arrays.fill(errorCount, 10);
  }

  /** How much a forecast made at a time of day teaches each part of the day. */
  private static double[][] nearness() {
    double[][] table = new double[PARTS][SlotSeries.PER_DAY];
    for (int part = 0; part < PARTS; part++) {
      for (int slot = 0; slot < SlotSeries.PER_DAY; slot++) {
        double apart = Math.abs(hour(slot) - part * HOURS_PER_PART);
        apart = Math.min(apart, 24 - apart) / WIDTH_HOURS;
        table[part][slot] = StrictMath.exp(-0.5 * apart * apart) + FROM_OTHERS;
      }
    }
    return table;
  }

  private static double hour(long slot) {
    return Math.floorMod(slot, (long) SlotSeries.PER_DAY) / (double) SlotSeries.PER_HOUR;
  }

  /**
   * Learns from a forecast made at a slot: its habits, and what was to be added to the filter's.
   */
  void learn(long slot, double[] habits, double truth, double answered) {
    double[] f = limited(habits);
    for (int i = 0; i < f.length; i++) {
      if (habits[i] != 0) {
        size[i] = FORGET * size[i] + habits[i] * habits[i];
        known[i] = FORGET * known[i] + 1;
      }
    }
    int own = part(slot);
    double error = truth - answered;
    for (int part = 0; part < PARTS; part++) {
      errorSum[part] *= FORGET;
      errorCount[part] *= FORGET;
      double share = part == own ? 1 : FROM_OTHERS;
      errorSum[part] += share * error * error;
      errorCount[part] += share;
    }
    double trust = errorCount[own] / Math.max(errorSum[own], LEAST_VARIANCE * errorCount[own]);
    for (int part = 0; part < PARTS; part++) {
      add(part, f, truth, trust * NEARNESS[part][(int) Math.floorMod(slot, DAY)]);
    }
  }

  private void add(int part, double[] f, double truth, double weight) {
    for (int i = 0; i < f.length; i++) {
      products[part][i] = FORGET * products[part][i] + weight * f[i] * truth;
      double[] row = squares[part][i];
      for (int j = 0; j <= i; j++) {
        row[j] = FORGET * row[j] + weight * f[i] * f[j];
      }
    }
  }

  private static int part(long slot) {
    return (int) Math.round(hour(slot) / HOURS_PER_PART) % PARTS;
  }

  /** What to add to the filter's expectation, K. */
  double answer(long slot, double[] habits) {
    return answer(weights(part(slot)), habits);
  }

  /**
   * The same for a forecast that is only made to learn from: the weights are worked out once for a
   * visit to a part of the day, as they change little in three hours.
   */
  double roughAnswer(long slot, double[] habits) {
    int part = part(slot);
    if (part != keptPart || slot - keptSince >= KEPT_SLOTS) {
      kept = weights(part);
      keptPart = part;
      keptSince = slot;
    }
    return answer(kept, habits);
  }

  private double answer(double[] weights, double[] habits) {
    double[] f = limited(habits);
    double sum = 0;
    for (int i = 0; i < f.length; i++) {
      sum += weights[i] * f[i];
    }
    return sum;
  }

  private double[] weights(int part) {
    double ridge = stiffness;
    RealMatrix normal = MatrixUtils.createRealMatrix(HabitFeatures.SIZE, HabitFeatures.SIZE);
    double[] right = products[part].clone();
    right[HabitFeatures.WEEK] += ridge * weekWeight;
    right[HabitFeatures.YESTERDAY] += ridge * yesterdayWeight;
    for (int i = 0; i < HabitFeatures.SIZE; i++) {
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
    double[] f = habits.clone();
    for (int i = 0; i < f.length; i++) {
      if (known[i] >= ENOUGH) {
        double limit = FURTHEST * Math.sqrt(size[i] / known[i]);
        f[i] = Math.max(-limit, Math.min(limit, f[i]));
      }
    }
    return f;
  }
}
