package org.layroom.predictor.room;

import java.util.ArrayDeque;
import java.util.Deque;

/** The twelve-hour forecasts of the last nights and what they got wrong, for telling people. */
final class NightlyErrors {
  private static final int KEPT = 14;
  private static final int LEAD_HOURS = 12;

  private final Deque<Double> errors = new ArrayDeque<>();
  private long lastDay = Long.MIN_VALUE;
  private final int eveningSlot;

  NightlyErrors() {
    eveningSlot = 18 * SlotSeries.PER_HOUR;
  }

  void learn(long madeAt, int leadHours, double error) {
    long sinceEvening = madeAt - eveningSlot;
    if (leadHours != LEAD_HOURS
        || Math.floorMod(sinceEvening, (long) SlotSeries.PER_DAY) >= SlotSeries.PER_HOUR) {
      return;
    }
    long day = Math.floorDiv(sinceEvening, (long) SlotSeries.PER_DAY);
    if (day != lastDay) {
      lastDay = day;
      errors.addLast(error);
      if (errors.size() > KEPT) {
        errors.removeFirst();
      }
    }
  }

  int count() {
    return errors.size();
  }

  /** Mean absolute error of these nights, K; NaN without any. */
  double meanAbsoluteError() {
    return errors.stream().mapToDouble(Math::abs).average().orElse(Double.NaN);
  }
}
