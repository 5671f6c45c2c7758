package org.layroom.predictor.room;

/**
 * How far a forecast may go: a little beyond what the room has shown in ten weeks. Rooms with a
 * heater switched by hand have rare, large errors; without this the rarest path would be colder
 * than any winter.
 */
record Reach(double lowest, double highest) {
  private static final double LEAST_BEYOND_K = 8;
  private static final double PART_BEYOND = 0.5;

  static Reach of(SlotSeries series) {
    double lowest = series.lowest();
    double highest = series.highest();
    double beyond = Math.max(LEAST_BEYOND_K, PART_BEYOND * (highest - lowest));
    return new Reach(lowest - beyond, highest + beyond);
  }

  double within(double value) {
    return Math.max(lowest, Math.min(highest, value));
  }
}
