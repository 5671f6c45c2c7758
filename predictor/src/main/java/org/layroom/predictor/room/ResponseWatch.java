package org.layroom.predictor.room;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.OptionalDouble;

/**
 * Collects warm-ups and airings from the air's temperature, and how the mold follows the air:
 * {@code d mold / dt = (air - mold) / tau}, tau by least squares with slow forgetting.
 */
final class ResponseWatch {
  private static final int HOUR = SlotSeries.PER_HOUR;
  private static final int HALF_HOUR = HOUR / 2;
  private static final double WARM_UP_K_PER_H = 1.5;
  private static final double AIRING_K = -1.5;
  private static final double OVER = 0.3;
  private static final int KEPT = 20;
  private static final double FORGET = 0.9995;
  private static final int LEAST_PAIRS = 100;

  private final Deque<Double> rises = new ArrayDeque<>();
  private final Deque<Double> tops = new ArrayDeque<>();
  private final Deque<Double> drops = new ArrayDeque<>();
  private long warmingSince = Long.MIN_VALUE;
  private double warmingFrom;
  private long airingSince = Long.MIN_VALUE;
  private double airingFrom;
  private double lowest;
  private double pull;
  private double pullSquared;
  private double pairs;

  /** Looks at a slot that is complete. */
  void see(long slot, SlotSeries air, SlotSeries mold) {
    double now = air.at(slot);
    warmUp(slot, now, air.at(slot - HOUR));
    airing(slot, now, air.at(slot - HALF_HOUR));
    double difference = 0;
    for (int s = 1; s <= HOUR; s++) {
      difference += (air.at(slot - s) - mold.at(slot - s)) / HOUR;
    }
    double moved = mold.at(slot) - mold.at(slot - HOUR);
    if (!Double.isNaN(difference + moved)) {
      pull = FORGET * pull + difference * moved;
      pullSquared = FORGET * pullSquared + difference * difference;
      pairs = FORGET * pairs + 1;
    }
  }

  private void warmUp(long slot, double now, double hourAgo) {
    double rise = now - hourAgo;
    if (warmingSince == Long.MIN_VALUE && rise >= WARM_UP_K_PER_H) {
      warmingSince = slot - HOUR;
      warmingFrom = hourAgo;
    } else if (warmingSince != Long.MIN_VALUE && !(rise >= OVER)) {
      if (!Double.isNaN(rise)) {
        double hours = Math.max(1, (slot - warmingSince) / (double) HOUR - 1);
        keep(rises, (now - warmingFrom) / hours);
        keep(tops, now);
      }
      warmingSince = Long.MIN_VALUE;
    }
  }

  private void airing(long slot, double now, double before) {
    double fall = now - before;
    if (airingSince == Long.MIN_VALUE && fall <= AIRING_K) {
      airingSince = slot;
      airingFrom = before;
      lowest = now;
    } else if (airingSince != Long.MIN_VALUE) {
      lowest = Double.isNaN(now) ? lowest : Math.min(lowest, now);
      if (!(fall < -OVER)) {
        keep(drops, airingFrom - lowest);
        airingSince = Long.MIN_VALUE;
      }
    }
  }

  private static void keep(Deque<Double> values, double value) {
    values.addLast(value);
    if (values.size() > KEPT) {
      values.removeFirst();
    }
  }

  RoomResponse response() {
    OptionalDouble follows =
        pairs >= LEAST_PAIRS && pull > 0.05 * pullSquared
            ? OptionalDouble.of(Math.max(0.1, pullSquared / pull))
            : OptionalDouble.empty();
    return new RoomResponse(
        rises.size(),
        median(rises),
        tops.stream().mapToDouble(Double::doubleValue).max(),
        drops.size(),
        median(drops),
        follows);
  }

  private static OptionalDouble median(Deque<Double> values) {
    double[] sorted = values.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    return sorted.length == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of((sorted[(sorted.length - 1) / 2] + sorted[sorted.length / 2]) / 2);
  }
}
