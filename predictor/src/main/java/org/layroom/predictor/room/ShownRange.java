package org.layroom.predictor.room;

/**
 * What the room has shown in ten weeks, and how far a forecast may go from there: a little beyond.
 * Rooms with a heater switched by hand have rare, large errors; without this the rarest path would
 * be colder than any winter, and after two days the likely course would go on rising where a
 * thermostat stops.
 *
 * @param lowest value kept
 * @param highest value kept
 */
record ShownRange(double lowest, double highest) {
  private static final double LEAST_BEYOND_K = 8;
  private static final double PART_BEYOND = 0.5;
  private static final double LEAST_LIKELY_BEYOND_K = 2;
  private static final double PART_LIKELY_BEYOND = 0.2;

  static ShownRange of(SlotSeries series) {
    return new ShownRange(series.lowest(), series.highest());
  }

  /** Any value that a path may take. */
  double possible(double value) {
    return within(value, Math.max(LEAST_BEYOND_K, PART_BEYOND * (highest - lowest)));
  }

  /** A likely value: a record may be broken, but not by much. */
  double likely(double value) {
    return within(value, Math.max(LEAST_LIKELY_BEYOND_K, PART_LIKELY_BEYOND * (highest - lowest)));
  }

  private double within(double value, double beyond) {
    return Math.max(lowest - beyond, Math.min(highest + beyond, value));
  }
}
