package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Means of the true air, moment by moment: a moment holds until the next. Vapors are added up
 * against their limits (29 CFR 1910.1000(d)(2)): acetone counts by NIOSH's 250 ppm over ten hours
 * (Pocket Guide).
 */
final class Truth {
  private static final double ACETONE_PPM = 250;
  private static final Duration QUARTER = Duration.ofMinutes(15);
  private static final Duration MINUTE = Duration.ofMinutes(1);

  private record Piece(Duration from, double styrenePpm, double timesLimit) {}

  private final double limitPpm;
  private final Deque<Piece> pieces = new ArrayDeque<>();

  Truth(double limitPpm) {
    this.limitPpm = limitPpm;
  }

  void plus(Moment moment) {
    while (pieces.size() > 1 && second().from().compareTo(moment.at().minus(QUARTER)) < 0) {
      pieces.removeFirst();
    }
    pieces.addLast(
        new Piece(
            moment.at(),
            moment.styrenePpm(),
            moment.styrenePpm() / limitPpm + moment.solventPpm() / ACETONE_PPM));
  }

  private Piece second() {
    var all = pieces.iterator();
    all.next();
    return all.next();
  }

  /** Styrene over the last minute, ppm. */
  double minutePpm() {
    return mean(MINUTE, true);
  }

  /** All vapors over the last quarter of an hour, times their eight-hour limits. */
  double quarterTimesLimit() {
    return mean(QUARTER, false);
  }

  /** The most of any moment of the last quarter of an hour, times the eight-hour limits. */
  double mostTimesLimit() {
    return pieces.stream().mapToDouble(Piece::timesLimit).max().orElse(0);
  }

  private double mean(Duration window, boolean styrene) {
    Duration end = pieces.getLast().from();
    Duration start = end.minus(window);
    double sum = 0;
    Duration to = end;
    var back = pieces.descendingIterator();
    while (back.hasNext()) {
      Piece piece = back.next();
      Duration from = piece.from().compareTo(start) < 0 ? start : piece.from();
      double value = styrene ? piece.styrenePpm() : piece.timesLimit();
      sum += value * seconds(to.minus(from));
      to = from;
      if (from.compareTo(start) <= 0) {
        break;
      }
    }
    return sum / seconds(window);
  }

  private static double seconds(Duration length) {
    return length.toMillis() / 1000.0;
  }
}
