package org.layroom.dashboard.answer;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.TreeSet;
import org.layroom.dashboard.store.ArchivedSample;
import org.layroom.dashboard.store.Store;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;

/**
 * The good readings of a room, a row for each sample, with one name and unit for each column
 * whatever the file is. A second mold has a column of its own. Samples of one millisecond share a
 * row only where they are of different devices.
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

  private final Store store;
  private final RoomName room;
  private final Map<String, String> columns = new LinkedHashMap<>(USUAL);

  /**
   * Rows of a room.
   *
   * @param series those that the room is known to have, such as {@code mold-temperature/fender}
   */
  ReadingsRows(Store store, RoomName room, Set<String> series) {
    this.store = store;
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
    List<Speaker> speakers = speakers();
    for (Instant day = from; day.isBefore(to); day = day.plus(AT_ONCE)) {
      Instant end = day.plus(AT_ONCE).isBefore(to) ? day.plus(AT_ONCE) : to;
      for (Map.Entry<Place, double[]> row : rows(speakers, day, end).entrySet()) {
        taker.take(row.getKey().time(), row.getValue());
      }
    }
  }

  /** The device whose values of a series count. */
  private record Speaker(String series, Optional<DeviceName> device) {}

  private List<Speaker> speakers() {
    return columns.keySet().stream()
        .map(series -> new Speaker(series, store.sources().source(room, series)))
        .toList();
  }

  /**
   * Where a row stands.
   *
   * @param nth among the rows of one device at this time
   */
  private record Place(Instant time, int nth) {
    static final Comparator<Place> ORDER =
        Comparator.comparing(Place::time).thenComparingInt(Place::nth);
  }

  private Map<Place, double[]> rows(List<Speaker> speakers, Instant from, Instant to) {
    SortedMap<Place, double[]> rows = new TreeMap<>(Place.ORDER);
    Map<DeviceName, Place> last = new HashMap<>();
    store
        .archive()
        .export(
            room,
            from,
            to,
            sample -> {
              Map<Integer, Double> good = good(sample, speakers);
              if (!good.isEmpty()) {
                Place place = place(sample, last);
                double[] row = rows.computeIfAbsent(place, at -> nothing());
                good.forEach((column, value) -> row[column] = value);
              }
            });
    return rows;
  }

  /** The place after the last of the same device. */
  private static Place place(ArchivedSample sample, Map<DeviceName, Place> last) {
    Place first = new Place(sample.times().corrected(), 0);
    Place place =
        Optional.ofNullable(last.get(sample.channel().device()))
            .filter(before -> before.time().equals(first.time()))
            .map(before -> new Place(before.time(), before.nth() + 1))
            .orElse(first);
    last.put(sample.channel().device(), place);
    return place;
  }

  /** The good values of a sample that count, by column. */
  private static Map<Integer, Double> good(ArchivedSample sample, List<Speaker> speakers) {
    Map<Integer, Double> good = new HashMap<>();
    for (Reading reading : sample.readings()) {
      int column =
          speakers.indexOf(new Speaker(reading.name(), Optional.of(sample.channel().device())));
      if (column >= 0 && reading.quality().isGood() && reading.value().isPresent()) {
        good.put(column, reading.value().getAsDouble());
      }
    }
    return good;
  }

  private double[] nothing() {
    double[] row = new double[columns.size()];
    Arrays.fill(row, Double.NaN);
    return row;
  }
}
