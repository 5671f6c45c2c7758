package org.layroom.predictor.room;

/** The leads at which corrections and errors are learned; between them they run straight. */
final class Leads {
  static final int[] HOURS = {1, 2, 3, 4, 6, 8, 10, 12, 15, 18, 21, 24, 30, 36, 42, 48, 60, 72};
  static final int COUNT = HOURS.length;
  static final int LONGEST = HOURS[COUNT - 1] * SlotSeries.PER_HOUR;

  private Leads() {}

  static int slots(int knot) {
    return HOURS[knot] * SlotSeries.PER_HOUR;
  }

  /** A value at any lead, from the values at the knots; at lead 0 it is {@code atZero}. */
  static double between(double[] atKnots, double atZero, double leadSlots) {
    double from = 0;
    double fromValue = atZero;
    for (int k = 0; k < COUNT; k++) {
      double to = slots(k);
      if (leadSlots <= to) {
        return fromValue + (atKnots[k] - fromValue) * (leadSlots - from) / (to - from);
      }
      from = to;
      fromValue = atKnots[k];
    }
    return fromValue;
  }
}
