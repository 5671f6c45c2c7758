package org.layroom.predictor.room;

import java.util.Arrays;

/**
 * The room as a sum of parts that a Kalman filter follows from reading to reading: a level that
 * wanders, a disturbance that dies away over days (weather, a heater set otherwise), one that dies
 * away over hours (a door, sun, people), and a daily rhythm of five harmonics that changes slowly.
 * A structural time series in the sense of Harvey, "Forecasting, Structural Time Series Models and
 * the Kalman Filter" (1989). All transitions are diagonal, so a step costs n^2 for n = 13.
 *
 * <p>The spreads are in relative units: multiplied by one factor the forecast stays the same, so
 * only their ratios matter; the true size of errors is learned elsewhere. Gaps need no care: the
 * doubt grows by itself.
 */
final class RhythmFilter {
  /** Harmonics of the day. */
  static final int HARMONICS = 5;

  static final int LEVEL = 0;
  static final int SLOW = 1;
  static final int FAST = 2;
  static final int FIRST_HARMONIC = 3;
  static final int SIZE = FIRST_HARMONIC + 2 * HARMONICS;

  private static final double LEVEL_PER_ROOT_DAY = 1.5;
  private static final double SLOW_SD = 1.0;
  private static final double SLOW_HOURS = 70;
  private static final double FAST_SD = 0.56;
  private static final double FAST_HOURS = 4;
  private static final double RHYTHM_PER_ROOT_DAY = 0.15;
  private static final double RHYTHM_DAYS = 60;
  private static final double RHYTHM_SD = 3;
  private static final double READING_SD = 0.1;

  /** A reading this many standard deviations off counts for little until the next agrees. */
  private static final double SURPRISE = 5;

  private static final double[][] WAVES = waves();

  private static final double[] KEEP = keep();
  private static final double[][] POWERS = powers();

  private final double[] drift = new double[SIZE];
  private final double[] x = new double[SIZE];
  private final double[][] P = new double[SIZE][SIZE];
  private final double[] gain = new double[SIZE];
  private long slot;
  private boolean started;
  private boolean surprised;

  /** Mean square of the standardized surprise of one reading, and how much it rests on. */
  private double scaleSum = 4;

  private double scaleCount = 4;

  RhythmFilter() {
    double hours = 1.0 / SlotSeries.PER_HOUR;
    drift[LEVEL] = LEVEL_PER_ROOT_DAY * LEVEL_PER_ROOT_DAY * hours / 24;
    fading(SLOW, SLOW_SD);
    fading(FAST, FAST_SD);
    for (int k = 0; k < HARMONICS; k++) {
      for (int i = FIRST_HARMONIC + 2 * k; i < FIRST_HARMONIC + 2 * k + 2; i++) {
        drift[i] = RHYTHM_PER_ROOT_DAY * RHYTHM_PER_ROOT_DAY * hours / 24 / (k + 1);
        P[i][i] = RHYTHM_SD * RHYTHM_SD / ((k + 1.0) * (k + 1.0));
      }
    }
    P[LEVEL][LEVEL] = 100;
  }

  private RhythmFilter(RhythmFilter other) {
    copy(other.drift, drift);
    copy(other.x, x);
    for (int i = 0; i < SIZE; i++) {
      copy(other.P[i], P[i]);
    }
    slot = other.slot;
    started = other.started;
    surprised = other.surprised;
    scaleSum = other.scaleSum;
    scaleCount = other.scaleCount;
  }

  private static void copy(double[] from, double[] to) {
    System.arraycopy(from, 0, to, 0, from.length);
  }

  /** What is left of each part after one slot. */
  private static double[] keep() {
    double[] keep = new double[SIZE];
    Arrays.fill(keep, StrictMath.exp(-1.0 / SlotSeries.PER_HOUR / (24 * RHYTHM_DAYS)));
    keep[LEVEL] = 1;
    keep[SLOW] = StrictMath.exp(-1 / (SLOW_HOURS * SlotSeries.PER_HOUR));
    keep[FAST] = StrictMath.exp(-1 / (FAST_HOURS * SlotSeries.PER_HOUR));
    return keep;
  }

  private static double[][] powers() {
    double[][] powers = new double[2 * Leads.LONGEST + 2][SIZE];
    for (int lead = 0; lead < powers.length; lead++) {
      for (int i = 0; i < SIZE; i++) {
        powers[lead][i] = KEEP[i] == 1 ? 1 : StrictMath.pow(KEEP[i], lead);
      }
    }
    return powers;
  }

  private void fading(int i, double sd) {
    drift[i] = sd * sd * (1 - KEEP[i] * KEEP[i]);
    P[i][i] = sd * sd;
  }

  private static double[][] waves() {
    double[][] table = new double[SlotSeries.PER_DAY][SIZE];
    for (int s = 0; s < table.length; s++) {
      table[s][LEVEL] = 1;
      table[s][SLOW] = 1;
      table[s][FAST] = 1;
      for (int k = 0; k < HARMONICS; k++) {
        double angle = 2 * Math.PI * (k + 1) * s / SlotSeries.PER_DAY;
        table[s][FIRST_HARMONIC + 2 * k] = StrictMath.cos(angle);
        table[s][FIRST_HARMONIC + 2 * k + 1] = StrictMath.sin(angle);
      }
    }
    return table;
  }

  private static double[] waves(long slot) {
    return WAVES[(int) Math.floorMod(slot, (long) SlotSeries.PER_DAY)];
  }

  RhythmFilter copy() {
    return new RhythmFilter(this);
  }

  /** Goes on to a slot and takes its value in. */
  void observe(long toSlot, double value) {
    if (!started) {
      started = true;
      slot = toSlot;
      x[LEVEL] = value;
    }
    advance(toSlot);
    double[] h = waves(slot);
    double variance = READING_SD * READING_SD;
    double innovation = value;
    for (int i = 0; i < SIZE; i++) {
      gain[i] = dot(P[i], h);
      variance += gain[i] * h[i];
      innovation -= h[i] * x[i];
    }
    double standardized = innovation * innovation / variance;
    double limit = SURPRISE * SURPRISE * scaleSquared();
    if (standardized > limit && !surprised) {
      surprised = true;
      variance *= standardized / limit;
      standardized = limit;
    } else {
      surprised = false;
      standardized = Math.min(standardized, 4 * limit);
    }
    scaleSum = 0.998 * scaleSum + standardized;
    scaleCount = 0.998 * scaleCount + 1;
    for (int i = 0; i < SIZE; i++) {
      double share = gain[i] / variance;
      x[i] += share * innovation;
      for (int j = 0; j < SIZE; j++) {
        P[i][j] -= share * gain[j];
      }
    }
  }

  private void advance(long toSlot) {
    for (; slot < toSlot; slot++) {
      for (int i = 0; i < SIZE; i++) {
        x[i] *= KEEP[i];
        for (int j = 0; j < SIZE; j++) {
          P[i][j] *= KEEP[i] * KEEP[j];
        }
        P[i][i] += drift[i];
      }
    }
  }

  /** Square of the factor from relative to true units. */
  double scaleSquared() {
    return scaleSum / scaleCount;
  }

  /** Expected values of the slots after the newest, the first at index 1. */
  double[] expected(int leads) {
    double[] y = new double[leads + 1];
    double[] fading = x.clone();
    for (int lead = 0; lead <= leads; lead++) {
      y[lead] = dot(fading, waves(slot + lead));
      for (int i = 0; i < SIZE; i++) {
        fading[i] *= KEEP[i];
      }
    }
    return y;
  }

  /** Standard deviation, in relative units, of the value some slots ahead. */
  double relativeSd(int lead) {
    double[] h = waves(slot + lead);
    double variance = READING_SD * READING_SD;
    double[] carried = new double[SIZE];
    for (int i = 0; i < SIZE; i++) {
      double kept = power(i, lead);
      carried[i] = h[i] * kept;
      variance += h[i] * h[i] * gained(i, lead);
    }
    for (int i = 0; i < SIZE; i++) {
      variance += carried[i] * dot(P[i], carried);
    }
    return Math.sqrt(Math.max(variance, READING_SD * READING_SD));
  }

  /** What is left of a part after some slots, at most twice the longest lead. */
  double power(int part, int lead) {
    return POWERS[lead][part];
  }

  /** Variance that a part gains over some slots. */
  double gained(int part, int lead) {
    double kept = power(part, lead);
    return KEEP[part] == 1
        ? drift[part] * lead
        : drift[part] * (1 - kept * kept) / (1 - KEEP[part] * KEEP[part]);
  }

  /** Doubt about the parts now. */
  double[][] covariance() {
    return Arrays.stream(P).map(double[]::clone).toArray(double[][]::new);
  }

  double weight(int part, int lead) {
    return waves(slot + lead)[part];
  }

  private static double dot(double[] left, double[] right) {
    double sum = 0;
    for (int i = 0; i < SIZE; i++) {
      sum += left[i] * right[i];
    }
    return sum;
  }
}
