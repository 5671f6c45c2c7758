package org.layroom.predictor.room;

import java.util.Optional;

/**
 * What is known of the weather: outdoor temperature as it was measured up to now, or a weather
 * service's series that reaches ahead. As differences from the seven days before, NaN where they
 * are not known.
 */
final class Outdoors {
  private static final int LATELY = 3 * SlotSeries.PER_HOUR;
  private static final int WEEK = 7;

  private final SlotSeries measured = new SlotSeries();
  private final Optional<OutdoorSeries> foretold;

  Outdoors(Optional<OutdoorSeries> foretold) {
    this.foretold = foretold;
  }

  /** Takes a measured value; one from before the newest slot is not used. */
  boolean add(long slot, double temperatureC) {
    if (measured.last() != Long.MIN_VALUE && slot < measured.last()) {
      return false;
    }
    measured.add(slot, temperatureC);
    return true;
  }

  /**
   * How unusual the time ahead will be, K. Without a series that reaches ahead: how the last hours
   * differ from the same hours yesterday.
   */
  double unusualAhead(long slot, int lead) {
    return foretold.isPresent()
        ? foretold.get().unusualMean(slot, lead)
        : lately(slot) - lately(slot - SlotSeries.PER_DAY);
  }

  /** How unusual the last three hours were, K. */
  double unusualLately(long slot) {
    if (foretold.isPresent()) {
      return foretold.get().unusualMean(slot - LATELY, LATELY);
    }
    double sum = 0;
    int count = 0;
    for (int d = 1; d <= WEEK; d++) {
      double then = lately(slot - (long) d * SlotSeries.PER_DAY);
      if (!Double.isNaN(then)) {
        sum += then;
        count++;
      }
    }
    return count == 0 ? Double.NaN : lately(slot) - sum / count;
  }

  private double lately(long slot) {
    if (measured.last() == Long.MIN_VALUE) {
      return Double.NaN;
    }
    double sum = 0;
    int count = 0;
    for (long s = slot - LATELY + 1; s <= slot; s++) {
      double value = measured.at(s);
      if (!Double.isNaN(value)) {
        sum += value;
        count++;
      }
    }
    return count == 0 ? Double.NaN : sum / count;
  }
}
