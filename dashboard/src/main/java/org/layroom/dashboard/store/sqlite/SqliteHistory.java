package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.TreeMap;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.DaySummary;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/** Questions about the past of one series, asked of the reading and minute tables. */
final class SqliteHistory implements History {
  private static final Duration LONGEST_RAW = Duration.ofHours(36);
  private static final Duration NARROWEST_ROLLUP = Duration.ofMinutes(2);

  private final Database database;

  SqliteHistory(Database database) {
    this.database = database;
  }

  @Override
  public SeriesHistory between(RoomName room, String series, Instant from, Instant to, int points) {
    if (points < 1 || points > MOST_POINTS) {
      throw new IllegalArgumentException("points " + points + ": must be 1 to " + MOST_POINTS);
    }
    if (!from.isBefore(to)) {
      throw new IllegalArgumentException("from " + from + " must be before to " + to);
    }
    Columns.expression(series);
    return database.read(
        "read the history",
        connection -> {
          Optional<SqliteSources.Source> source = SqliteSources.find(connection, room, series);
          long width = ceilDiv(to.toEpochMilli() - from.toEpochMilli(), points);
          if (source.isEmpty()) {
            return new SeriesHistory(Optional.empty(), Duration.ofMillis(width), List.of());
          }
          long device = source.get().id();
          boolean raw =
              (Duration.between(from, to).compareTo(LONGEST_RAW) <= 0
                      || width < NARROWEST_ROLLUP.toMillis())
                  && reachesBack(connection, device, from);
          Stretch stretch =
              raw
                  ? new Stretch(from.toEpochMilli(), to.toEpochMilli(), width)
                  : wholeMinutes(from, to, points);
          List<Bucket> buckets =
              raw
                  ? raw(connection, device, series, stretch)
                  : rollups(connection, device, series, stretch);
          return new SeriesHistory(
              Optional.of(source.get().device()), Duration.ofMillis(stretch.width()), buckets);
        });
  }

  private record Stretch(long from, long to, long width) {}

  private static Stretch wholeMinutes(Instant from, Instant to, int points) {
    long minute = MinuteRollups.MINUTE_MILLIS;
    long start = Math.floorDiv(from.toEpochMilli(), minute) * minute;
    long end = ceilDiv(to.toEpochMilli(), minute) * minute;
    return new Stretch(start, end, ceilDiv(ceilDiv(end - start, points), minute) * minute);
  }

  private static long ceilDiv(long value, long by) {
    return -Math.floorDiv(-value, by);
  }

  /** Whether no raw row that the stretch needs has been dropped already. */
  private static boolean reachesBack(Connection connection, long device, Instant from)
      throws SQLException {
    OptionalLong oldestRaw =
        oldest(connection, "select min(time) from reading where device = ?", device, 1);
    OptionalLong oldestMinute =
        oldest(
            connection,
            "select min(minute) from minute where device = ?",
            device,
            MinuteRollups.MINUTE_MILLIS);
    if (oldestRaw.isEmpty() || oldestMinute.isEmpty()) {
      return oldestMinute.isEmpty();
    }
    return from.toEpochMilli() >= oldestRaw.getAsLong()
        || oldestMinute.getAsLong() > oldestRaw.getAsLong() - MinuteRollups.MINUTE_MILLIS;
  }

  private static OptionalLong oldest(Connection connection, String sql, long device, long factor)
      throws SQLException {
    try (PreparedStatement query = connection.prepareStatement(sql)) {
      query.setLong(1, device);
      try (ResultSet row = query.executeQuery()) {
        long value = row.getLong(1);
        return row.wasNull() ? OptionalLong.empty() : OptionalLong.of(value * factor);
      }
    }
  }

  private static List<Bucket> raw(
      Connection connection, long device, String series, Stretch stretch) throws SQLException {
    String value = Columns.expression(series);
    String sql =
        "select (time - ?1) / ?2 as bucket, min("
            + value
            + "), avg("
            + value
            + "), max("
            + value
            + "), count("
            + value
            + ") as n from reading where device = ?3 and time >= ?1 and time < ?4"
            + " group by bucket having n > 0 order by bucket";
    return buckets(connection, sql, device, stretch, OptionalLong.empty());
  }

  private static List<Bucket> rollups(
      Connection connection, long device, String series, Stretch stretch) throws SQLException {
    OptionalLong id = seriesId(connection, series);
    if (id.isEmpty()) {
      return List.of();
    }
    String sql =
        "select (minute * 60000 - ?1) / ?2 as bucket, min(min), sum(sum) / sum(n), max(max), sum(n)"
            + " from minute where device = ?3 and series = ?5 and minute >= ?1 / 60000"
            + " and minute < ?4 / 60000 group by bucket order by bucket";
    return buckets(connection, sql, device, stretch, id);
  }

  private static List<Bucket> buckets(
      Connection connection, String sql, long device, Stretch stretch, OptionalLong series)
      throws SQLException {
    try (PreparedStatement query = connection.prepareStatement(sql)) {
      query.setLong(1, stretch.from());
      query.setLong(2, stretch.width());
      query.setLong(3, device);
      query.setLong(4, stretch.to());
      if (series.isPresent()) {
        query.setLong(5, series.getAsLong());
      }
      List<Bucket> buckets = new ArrayList<>();
      try (ResultSet row = query.executeQuery()) {
        while (row.next()) {
          long start = stretch.from() + row.getLong(1) * stretch.width();
          buckets.add(
              new Bucket(
                  Instant.ofEpochMilli(start),
                  Instant.ofEpochMilli(Math.min(stretch.to(), start + stretch.width())),
                  row.getDouble(2),
                  row.getDouble(3),
                  row.getDouble(4),
                  row.getLong(5)));
        }
      }
      return buckets;
    }
  }

  private static OptionalLong seriesId(Connection connection, String series) throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement("select id from series where name = ?")) {
      query.setString(1, series);
      try (ResultSet row = query.executeQuery()) {
        return row.next() ? OptionalLong.of(row.getLong(1)) : OptionalLong.empty();
      }
    }
  }

  @Override
  public long countReadings(RoomName room, Instant from, Instant to) {
    return database.read(
        "count readings",
        connection -> {
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select count(*) from reading join device on device.id = reading.device"
                      + " where room = ? and time >= ? and time < ?")) {
            query.setString(1, room.value());
            query.setLong(2, from.toEpochMilli());
            query.setLong(3, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              return row.getLong(1);
            }
          }
        });
  }

  @Override
  public List<DaySummary> daily(RoomName room, String series, ZoneId zone) {
    Map<LocalDate, Day> days = new TreeMap<>();
    values(
        room,
        series,
        Instant.EPOCH,
        Instant.ofEpochMilli(Long.MAX_VALUE),
        (time, value) ->
            days.computeIfAbsent(LocalDate.ofInstant(time, zone), day -> new Day()).add(value));
    List<DaySummary> summaries = new ArrayList<>();
    days.forEach((date, day) -> summaries.add(day.summary(date)));
    return summaries;
  }

  private static final class Day {
    private long n;
    private double sum;
    private double min = Double.POSITIVE_INFINITY;
    private double max = Double.NEGATIVE_INFINITY;

    void add(double value) {
      n++;
      sum += value;
      min = Math.min(min, value);
      max = Math.max(max, value);
    }

    DaySummary summary(LocalDate day) {
      return new DaySummary(day, n, min, sum / n, max);
    }
  }

  @Override
  public Optional<DeviceName> values(
      RoomName room, String series, Instant from, Instant to, ValueTaker taker) {
    String value = Columns.expression(series);
    return database.read(
        "read raw readings",
        connection -> {
          Optional<SqliteSources.Source> source = SqliteSources.find(connection, room, series);
          if (source.isEmpty()) {
            return Optional.empty();
          }
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select time, "
                      + value
                      + " as value from reading where device = ? and time >= ? and time < ?"
                      + " and value is not null order by time")) {
            query.setLong(1, source.get().id());
            query.setLong(2, from.toEpochMilli());
            query.setLong(3, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                taker.take(Instant.ofEpochMilli(row.getLong(1)), row.getDouble(2));
              }
            }
          }
          return Optional.of(source.get().device());
        });
  }
}
