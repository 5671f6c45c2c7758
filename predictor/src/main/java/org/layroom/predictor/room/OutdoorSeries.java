package org.layroom.predictor.room;

import java.time.Instant;
import java.util.Arrays;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;

/**
 * Outdoor temperature, as recorded or as forecast by a weather service: straight lines between
 * values up to six hours apart. What lies after the time of a forecast is used as the weather
 * service's forecast; leave it out when there is none.
 */
public final class OutdoorSeries {
  private static final int BRIDGED = 6 * SlotSeries.PER_HOUR;
  private static final int WEEK = 7;

  private final long first;
  private final double[] values;

  private OutdoorSeries(long first, double[] values) {
    this.first = first;
    this.values = values;
  }

  /**
   * A series from values in degC.
   *
   * @throws IllegalArgumentException when it is empty, spans more than three years, or a value is
   *     not between -60 and 60 degC
   */
  public static OutdoorSeries of(Map<Instant, Double> temperatureC) {
    NavigableMap<Long, Double> slots = new TreeMap<>();
    temperatureC.forEach(
        (time, value) -> {
          RoomReading.requireRange("outdoor temperature", value, -60, 60, "degC");
          slots.put(SlotSeries.slotOf(time.getEpochSecond()), value);
        });
    if (slots.isEmpty()) {
      throw new IllegalArgumentException("an outdoor series needs at least one value");
    }
    long first = slots.firstKey();
    long length = slots.lastKey() - first + 1;
    if (length > 3L * 366 * SlotSeries.PER_DAY) {
      throw new IllegalArgumentException(
          "outdoor series of " + length / SlotSeries.PER_DAY + " days: give at most three years");
    }
    double[] values = new double[(int) length];
    Arrays.fill(values, Double.NaN);
    long before = first;
    for (Map.Entry<Long, Double> entry : slots.entrySet()) {
      long slot = entry.getKey();
      double from = slots.getOrDefault(before, entry.getValue());
      if (slot - before <= BRIDGED) {
        for (long s = before; s < slot; s++) {
          values[(int) (s - first)] =
              from + (entry.getValue() - from) * (s - before) / (slot - before);
        }
      }
      values[(int) (slot - first)] = entry.getValue();
      before = slot;
    }
    return new OutdoorSeries(first, values);
  }

  /** The temperature of a slot, NaN where it is not known. */
  double at(long slot) {
    long i = slot - first;
    return i < 0 || i >= values.length ? Double.NaN : values[(int) i];
  }

  /** Mean over some slots after one, less the mean of the same slots on the seven days before. */
  double unusualMean(long slot, int lead) {
    double sum = 0;
    int count = 0;
    for (int d = 1; d <= WEEK; d++) {
      double mean = mean(slot - (long) d * SlotSeries.PER_DAY, lead);
      if (!Double.isNaN(mean)) {
        sum += mean;
        count++;
      }
    }
    return count == 0 ? Double.NaN : mean(slot, lead) - sum / count;
  }

  private double mean(long slot, int lead) {
    double sum = 0;
    int step = Math.max(1, lead / 12);
    int count = 0;
    for (int s = step; s <= lead; s += step) {
      sum += at(slot + s);
      count++;
    }
    return sum / count;
  }
}
