package org.layroom.dashboard.answer;

import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.layroom.dashboard.store.History;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;

/**
 * The good readings of a room as CSV (RFC 4180), a row for each moment in which something was
 * measured; what was not measured or not good stays empty. Times in UTC, ISO 8601. Other commands
 * read the file back.
 */
public final class ReadingsCsv {
  private static final Map<String, String> COLUMNS = new LinkedHashMap<>();

  static {
    COLUMNS.put(Series.TEMPERATURE, "temperature_degC");
    COLUMNS.put(Series.HUMIDITY, "humidity_pct");
    COLUMNS.put(Series.MOLD_TEMPERATURE, "mold_temperature_degC");
    COLUMNS.put(Series.RESIN_TEMPERATURE, "resin_temperature_degC");
    COLUMNS.put(Series.PRESSURE, "pressure_Pa");
    COLUMNS.put(Series.VOC_RAW, "voc_raw_ticks");
    COLUMNS.put(Series.VOC_LEVEL, "voc_level_times_clean_air");
    COLUMNS.put(Series.STYRENE_ESTIMATE, "styrene_estimate_fraction");
  }

  private static final Duration AT_ONCE = Duration.ofDays(1);

  private ReadingsCsv() {}

  /**
   * Writes the readings in {@code [from, to)}, a day in memory at a time.
   *
   * @throws IOException when they cannot be written
   */
  public static void write(History history, RoomName room, Instant from, Instant to, Appendable out)
      throws IOException {
    CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180);
    List<String> head = new ArrayList<>(List.of("time"));
    head.addAll(COLUMNS.values());
    csv.printRecord(head);
    for (Instant day = from; day.isBefore(to); day = day.plus(AT_ONCE)) {
      Instant end = day.plus(AT_ONCE).isBefore(to) ? day.plus(AT_ONCE) : to;
      for (Map.Entry<Instant, List<String>> row : rows(history, room, day, end).entrySet()) {
        List<String> cells = new ArrayList<>(List.of(row.getKey().toString()));
        cells.addAll(row.getValue());
        csv.printRecord(cells);
      }
    }
    csv.flush();
  }

  private static Map<Instant, List<String>> rows(
      History history, RoomName room, Instant from, Instant to) {
    Map<Instant, List<String>> rows = new TreeMap<>();
    int column = 0;
    for (String series : COLUMNS.keySet()) {
      int place = column++;
      history.values(
          room,
          series,
          from,
          to,
          (time, value) ->
              rows.computeIfAbsent(
                      time, t -> new ArrayList<>(Collections.nCopies(COLUMNS.size(), "")))
                  .set(place, Double.toString(value)));
    }
    return rows;
  }
}
