package org.layroom.predictor.room;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;

/**
 * Notices a jump of the temperature within half an hour, far beyond what the room usually does in
 * that time, that is still there two hours later.
 */
final class JumpWatch {
  private static final int HALF_HOUR = SlotSeries.PER_HOUR / 2;
  private static final int CONFIRM = 2 * SlotSeries.PER_HOUR;
  private static final int KEPT = 8;
  private static final double LEAST_K = 1.5;
  private static final double TIMES_USUAL = 8;
  private static final double STAYS = 0.6;
  private static final double FORGET = 0.998;

  private final Deque<RoomChange> changes = new ArrayDeque<>();
  private double usualSum = 0.2 * 36;
  private double usualCount = 36;
  private long candidate = Long.MIN_VALUE;
  private double before;
  private double step;

  /** Looks at a value before the model has taken it in. */
  void add(long slot, double value, SeriesModel room) {
    long newest = room.series().last();
    if (slot == newest || newest == Long.MIN_VALUE) {
      return;
    }
    if (candidate != Long.MIN_VALUE && slot - candidate >= CONFIRM) {
      confirm(value);
    }
    double then = room.series().at(slot - HALF_HOUR);
    if (slot - newest > HALF_HOUR || Double.isNaN(then)) {
      return;
    }
    double change = value - then;
    double usual = usualSum / usualCount;
    if (candidate == Long.MIN_VALUE && Math.abs(change) > Math.max(LEAST_K, TIMES_USUAL * usual)) {
      candidate = slot;
      before = then;
      step = change;
    }
    usualSum = FORGET * usualSum + Math.min(Math.abs(change), 4 * usual);
    usualCount = FORGET * usualCount + 1;
  }

  private void confirm(double value) {
    double stayed = value - before;
    if (stayed * step > 0 && Math.abs(stayed) > STAYS * Math.abs(step)) {
      changes.addLast(
          new RoomChange(Instant.ofEpochSecond(candidate * SlotSeries.SECONDS), stayed));
      if (changes.size() > KEPT) {
        changes.removeFirst();
      }
    }
    candidate = Long.MIN_VALUE;
  }

  List<RoomChange> since(Instant from) {
    return changes.stream().filter(change -> change.time().isAfter(from)).toList();
  }
}
