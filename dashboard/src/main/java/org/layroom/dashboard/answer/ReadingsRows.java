package org.layroom.dashboard.answer;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.layroom.dashboard.store.History;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;

/**
 * The good readings of a room, a row for each moment in which something was measured, with one name
 * and unit for each column whatever the file is. A second mold has a column of its own.
 */
final class ReadingsRows {
  private static final Map<String, String> USUAL = new LinkedHashMap<>();

  static {
    USUAL.put(Series.TEMPERATURE, "temperature_degC");
    USUAL.put(Series.HUMIDITY, "humidity_pct");
    USUAL.put(Series.MOLD_TEMPERATURE, "mold_temperature_degC");
    USUAL.put(Series.RESIN_TEMPERATURE, "resin_temperature_degC");
    USUAL.put(Series.PRESSURE, "pressure_Pa");
    USUAL.put(Series.VOC_RAW, "voc_raw_ticks");
    USUAL.put(Series.VOC_LEVEL, "voc_level_times_clean_air");
    USUAL.put(Series.STYRENE_ESTIMATE, "styrene_estimate_fraction");
  }

  private static final Duration AT_ONCE = Duration.ofDays(1);

  private final History history;
  private final RoomName room;
  private final Map<String, String> columns = new LinkedHashMap<>(USUAL);

  /**
   * Rows of a room.
   *
   * @param series those that the room is known to have, such as {@code mold-temperature/fender}
   */
  ReadingsRows(History history, RoomName room, Set<String> series) {
    this.history = history;
    this.room = room;
    for (String name : new TreeSet<>(series)) {
      int slash = name.indexOf('/');
      Optional<String> usual =
          slash < 0 ? Optional.empty() : Optional.ofNullable(USUAL.get(name.substring(0, slash)));
      usual.ifPresent(column -> columns.put(name, column + "/" + name.substring(slash + 1)));
    }
  }

  /** Takes rows in order of time. */
  interface Taker {
    /**
     * Takes one row.
     *
     * @param values in the order of the columns; NaN where nothing good was measured
     */
    void take(Instant time, double[] values) throws IOException;
  }

  /** The columns after the time, named with their units. */
  List<String> columns() {
    return List.copyOf(columns.values());
  }

  /**
   * Hands over the readings in {@code [from, to)}, a day in memory at a time.
   *
   * @throws IOException when a taker cannot write them
   */
  void each(Instant from, Instant to, Taker taker) throws IOException {
    for (Instant day = from; day.isBefore(to); day = day.plus(AT_ONCE)) {
      Instant end = day.plus(AT_ONCE).isBefore(to) ? day.plus(AT_ONCE) : to;
      for (Map.Entry<Instant, double[]> row : rows(day, end).entrySet()) {
        taker.take(row.getKey(), row.getValue());
      }
    }
  }

  private Map<Instant, double[]> rows(Instant from, Instant to) {
    Map<Instant, double[]> rows = new TreeMap<>();
    int column = 0;
    for (String series : columns.keySet()) {
      int place = column++;
      history.values(
          room,
          series,
          from,
          to,
          (time, value) -> rows.computeIfAbsent(time, t -> nothing())[place] = value);
    }
    return rows;
  }

  private double[] nothing() {
    double[] row = new double[columns.size()];
    Arrays.fill(row, Double.NaN);
    return row;
  }
}
