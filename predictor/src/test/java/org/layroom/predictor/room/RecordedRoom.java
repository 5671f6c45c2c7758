package org.layroom.predictor.room;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;

/**
 * A recorded room from a CSV file: a time column, or a date and a time column; a temperature and,
 * if there is one, a humidity column are found by their names. Rows without a temperature are left
 * out.
 */
record RecordedRoom(String name, List<RoomReading> readings, TreeMap<Long, Double> byMinute) {

  static RecordedRoom of(String name, List<RoomReading> readings) {
    TreeMap<Long, Double> byMinute = new TreeMap<>();
    readings.forEach(r -> byMinute.put(r.time().getEpochSecond() / 60, r.airC().getAsDouble()));
    return new RecordedRoom(name, readings, byMinute);
  }

  static RecordedRoom read(Path file) {
    try {
      List<String> lines = Files.readAllLines(file);
      List<String> head = List.of(lines.get(0).toLowerCase(Locale.ROOT).split(",", -1));
      int date = column(head, "date");
      int time = column(head, "time");
      int temp = column(head, "temp");
      int humidity = column(head, "humi");
      List<RoomReading> readings = new ArrayList<>();
      for (String line : lines.subList(1, lines.size())) {
        String[] cells = line.split(",", -1);
        OptionalDouble value = number(cells[temp]);
        if (value.isPresent()) {
          String when = date >= 0 && date != time ? cells[date] + "T" + cells[time] : cells[time];
          readings.add(
              new RoomReading(
                  instant(when.replace(' ', 'T')),
                  value,
                  humidity < 0 ? OptionalDouble.empty() : number(cells[humidity]),
                  OptionalDouble.empty()));
        }
      }
      readings.sort((a, b) -> a.time().compareTo(b.time()));
      return of(String.valueOf(file.getFileName()), readings);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Instant instant(String when) {
    return when.endsWith("Z")
        ? Instant.parse(when)
        : LocalDateTime.parse(when).toInstant(ZoneOffset.UTC);
  }

  private static int column(List<String> head, String starts) {
    for (int i = 0; i < head.size(); i++) {
      if (head.get(i).startsWith(starts)) {
        return i;
      }
    }
    return -1;
  }

  private static OptionalDouble number(String cell) {
    return cell.isBlank() || cell.equals("NA")
        ? OptionalDouble.empty()
        : OptionalDouble.of(Double.parseDouble(cell));
  }

  /** The reading nearest to a time, at most {@code within} minutes away, else NaN. */
  double at(long minute, int within) {
    Map.Entry<Long, Double> before = byMinute.floorEntry(minute);
    Map.Entry<Long, Double> after = byMinute.ceilingEntry(minute);
    long toBefore = before == null ? Long.MAX_VALUE : minute - before.getKey();
    long toAfter = after == null ? Long.MAX_VALUE : after.getKey() - minute;
    Map.Entry<Long, Double> nearest = toBefore <= toAfter ? before : after;
    return nearest == null || Math.min(toBefore, toAfter) > within
        ? Double.NaN
        : nearest.getValue();
  }
}
