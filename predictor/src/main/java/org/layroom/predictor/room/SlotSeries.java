package org.layroom.predictor.room;

import java.util.Arrays;

/**
 * One measured quantity on a grid of ten-minute slots, for the last ten weeks. A slot holds the
 * mean of its readings; up to three hours between two readings are bridged by a straight line,
 * longer gaps stay open.
 */
final class SlotSeries {
  static final int SECONDS = 600;
  static final int PER_HOUR = 6;
  static final int PER_DAY = 24 * PER_HOUR;
  private static final int KEPT = 70 * PER_DAY;
  private static final int BRIDGED = 3 * PER_HOUR;

  private final double[] values = new double[KEPT];
  private long last = Long.MIN_VALUE;
  private double sum;
  private int count;

  SlotSeries() {
    Arrays.fill(values, Double.NaN);
  }

  /** The slot that a time belongs to: the nearest. */
  static long slotOf(long epochSecond) {
    return Math.floorDiv(epochSecond + SECONDS / 2, SECONDS);
  }

  /** The newest slot with a reading, or {@code Long.MIN_VALUE}. */
  long last() {
    return last;
  }

  /** Takes a reading; the slot must not be before {@link #last()}. */
  void add(long slot, double value) {
    if (slot != last) {
      open(slot, value);
      sum = 0;
      count = 0;
    }
    sum += value;
    count++;
    values[index(slot)] = sum / count;
  }

  private void open(long slot, double value) {
    if (last == Long.MIN_VALUE || slot - last >= KEPT) {
      Arrays.fill(values, Double.NaN);
    } else {
      double from = values[index(last)];
      double slope = slot - last <= BRIDGED ? (value - from) / (slot - last) : Double.NaN;
      for (long s = last + 1; s < slot; s++) {
        values[index(s)] = from + slope * (s - last);
      }
    }
    last = slot;
  }

  /** The value of a slot, or NaN where nothing is known (any more). */
  double at(long slot) {
    return slot > last || slot <= last - KEPT || last == Long.MIN_VALUE
        ? Double.NaN
        : values[index(slot)];
  }

  /** The lowest value kept; infinite when there is none. */
  double lowest() {
    return Arrays.stream(values)
        .filter(v -> !Double.isNaN(v))
        .min()
        .orElse(Double.NEGATIVE_INFINITY);
  }

  /** The highest value kept; infinite when there is none. */
  double highest() {
    return Arrays.stream(values)
        .filter(v -> !Double.isNaN(v))
        .max()
        .orElse(Double.POSITIVE_INFINITY);
  }

  private static int index(long slot) {
    return (int) Math.floorMod(slot, (long) KEPT);
  }
}
