package org.layroom.dashboard.forecast;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.room.RoomReading;

/**
 * A stretch of a room's history in ten-minute means, each around a full ten minutes, from the
 * devices that speak for air, humidity, mold and outdoors.
 *
 * @param readings of the room, in order
 * @param outdoor temperatures, in order
 * @param sources which device spoke for what
 */
record StoredSlots(
    List<RoomReading> readings, Map<Instant, Double> outdoor, Map<String, DeviceName> sources) {
  /** A record that any device may send: the temperature outdoors, degC. */
  static final String OUTDOOR_TEMPERATURE = "outdoor-temperature";

  static final Duration SLOT = Duration.ofMinutes(10);

  private static final int MOST_AT_ONCE = 5000;

  /** The end of the last whole slot before a time: five minutes after the full ten. */
  static Instant endBefore(Instant time) {
    long slot = SLOT.toSeconds();
    return Instant.ofEpochSecond(
        Math.floorDiv(time.getEpochSecond() - slot / 2, slot) * slot + slot / 2);
  }

  /** The series that speaks for the mold: the unnamed one, else the first by name. */
  static Optional<String> moldSeries(RoomSnapshot room) {
    return new TreeSet<>(room.values().keySet())
        .stream()
            .filter(
                name ->
                    name.equals(Series.MOLD_TEMPERATURE)
                        || name.startsWith(Series.MOLD_TEMPERATURE + "/"))
            .findFirst();
  }

  /** Reads {@code [from, to)}, both ends of slots. */
  static StoredSlots read(History history, RoomSnapshot room, Instant from, Instant to) {
    Reader reader = new Reader(history, room.room(), from, to);
    Map<Instant, Double> air = reader.series(Series.TEMPERATURE);
    Map<Instant, Double> humidity = reader.series(Series.HUMIDITY);
    Map<Instant, Double> mold = moldSeries(room).map(reader::series).orElse(Map.of());
    Map<Instant, Double> outdoor = reader.series(OUTDOOR_TEMPERATURE);
    outdoor.values().removeIf(value -> !(value >= -60 && value <= 60));
    TreeSet<Instant> times = new TreeSet<>(air.keySet());
    times.addAll(humidity.keySet());
    times.addAll(mold.keySet());
    List<RoomReading> readings = new ArrayList<>();
    for (Instant time : times) {
      readings.add(
          new RoomReading(
              time,
              possible(air, time, -40, 60),
              possible(humidity, time, 1e-9, 100),
              possible(mold, time, -40, 150)));
    }
    return new StoredSlots(readings, outdoor, reader.sources);
  }

  private static OptionalDouble possible(
      Map<Instant, Double> values, Instant time, double least, double most) {
    double value = values.getOrDefault(time, Double.NaN);
    return value >= least && value <= most ? OptionalDouble.of(value) : OptionalDouble.empty();
  }

  private static final class Reader {
    private final History history;
    private final RoomName room;
    private final Instant from;
    private final Instant to;
    private final Map<String, DeviceName> sources = new TreeMap<>();

    Reader(History history, RoomName room, Instant from, Instant to) {
      this.history = history;
      this.room = room;
      this.from = from;
      this.to = to;
    }

    Map<Instant, Double> series(String name) {
      Map<Instant, Double> means = new TreeMap<>();
      for (Instant start = from; start.isBefore(to); ) {
        long slots =
            Math.min(MOST_AT_ONCE, Duration.between(start, to).toSeconds() / SLOT.toSeconds());
        Instant end = start.plus(SLOT.multipliedBy(slots));
        SeriesHistory part = history.between(room, name, start, end, (int) slots);
        part.device().ifPresent(device -> sources.put(name, device));
        for (Bucket bucket : part.buckets()) {
          means.put(bucket.from().plus(SLOT.dividedBy(2)), bucket.mean());
        }
        start = end;
      }
      return means;
    }
  }
}
