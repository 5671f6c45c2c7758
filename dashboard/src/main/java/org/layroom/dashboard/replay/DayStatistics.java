package org.layroom.dashboard.replay;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Map;
import java.util.TreeMap;

/** Count, least, mean and greatest of each day, straight from the rows of a file. */
final class DayStatistics {
  /** One day's figures. */
  record Day(long n, double min, double sum, double max) {
    Day plus(double value) {
      return new Day(n + 1, Math.min(min, value), sum + value, Math.max(max, value));
    }

    double mean() {
      return sum / n;
    }
  }

  private final ZoneId zone;
  private final Map<LocalDate, Day> days = new TreeMap<>();

  DayStatistics(ZoneId zone) {
    this.zone = zone;
  }

  void add(Instant time, double value) {
    days.merge(
        LocalDate.ofInstant(time, zone),
        new Day(1, value, value, value),
        (known, one) -> known.plus(value));
  }

  Map<LocalDate, Day> days() {
    return days;
  }
}
