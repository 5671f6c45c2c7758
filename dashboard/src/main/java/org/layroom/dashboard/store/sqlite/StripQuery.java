package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.layroom.dashboard.store.Bucket;
import org.layroom.dashboard.store.Level;

/**
 * One series of one device in buckets, from the level that fits the width of a bucket and still
 * holds everything. Whether it does is counted, not remembered: a level that has fewer values than
 * the next coarser one is not asked.
 */
final class StripQuery {
  private static final Duration LONGEST_RAW = Duration.ofHours(36);
  private static final Duration NARROWEST_ROLLUP = Duration.ofMinutes(2);

  /** Up to so many buckets of hours begin and end at the minute. */
  private static final int FEW = 48;

  private final Connection connection;
  private final long device;
  private final String series;
  private final OptionalLong seriesId;

  StripQuery(Connection connection, long device, String series) throws SQLException {
    this.connection = connection;
    this.device = device;
    this.series = series;
    try (PreparedStatement query =
        connection.prepareStatement("select id from series where name = ?")) {
      query.setString(1, series);
      try (ResultSet row = query.executeQuery()) {
        seriesId = row.next() ? OptionalLong.of(row.getLong(1)) : OptionalLong.empty();
      }
    }
  }

  /** Buckets of one width, in milliseconds. */
  record Strip(Duration width, List<Bucket> buckets) {}

  /** Times and width in milliseconds. */
  private record Stretch(long from, long to, long width) {
    /** Widened to whole units, in as many buckets at most. */
    static Stretch whole(Instant from, Instant to, int points, long unit) {
      long start = Math.floorDiv(from.toEpochMilli(), unit) * unit;
      long end = ceilDiv(to.toEpochMilli(), unit) * unit;
      return new Stretch(start, end, ceilDiv(ceilDiv(end - start, points), unit) * unit);
    }

    Instant start(long bucket) {
      return Instant.ofEpochMilli(from + bucket * width);
    }

    Instant end(long bucket) {
      return Instant.ofEpochMilli(Math.min(to, from + (bucket + 1) * width));
    }
  }

  static long ceilDiv(long value, long by) {
    return -Math.floorDiv(-value, by);
  }

  Strip ask(Instant from, Instant to, int points) throws SQLException {
    long width = ceilDiv(to.toEpochMilli() - from.toEpochMilli(), points);
    boolean fine =
        Duration.between(from, to).compareTo(LONGEST_RAW) <= 0
            || width < NARROWEST_ROLLUP.toMillis();
    if (fine) {
      Stretch stretch = new Stretch(from.toEpochMilli(), to.toEpochMilli(), width);
      List<Bucket> buckets = raw(stretch);
      if (rawIsWhole(stretch, buckets)) {
        return strip(stretch, buckets);
      }
    }
    if (seriesId.isEmpty()) {
      return new Strip(Duration.ofMillis(width), List.of());
    }
    long until = until();
    Stretch minutes = Stretch.whole(from, to, points, Rollups.MINUTE_MILLIS);
    Stretch hours = Stretch.whole(from, to, points, Rollups.HOUR_MILLIS);
    boolean hoursFit = !fine && 2 * hours.width() <= 3 * width;
    if ((hoursFit && points > FEW) || !minutesAreWhole(minutes.from(), minutes.to(), until)) {
      return strip(hours, hours(hours, until));
    }
    return strip(minutes, hoursFit ? toTheMinute(minutes, until) : minutes(minutes, until));
  }

  private static Strip strip(Stretch stretch, List<Bucket> buckets) {
    return new Strip(Duration.ofMillis(stretch.width()), buckets);
  }

  /** Row by row: in order of time they need no sorting, which SQLite would do to group them. */
  private List<Bucket> raw(Stretch stretch) throws SQLException {
    String value = Columns.expression(series);
    try (PreparedStatement query =
        connection.prepareStatement(
            "select time, "
                + value
                + " as value from reading where device = ? and time >= ? and time < ?"
                + " and value is not null order by time")) {
      query.setLong(1, device);
      query.setLong(2, stretch.from());
      query.setLong(3, stretch.to());
      List<Bucket> buckets = new ArrayList<>();
      try (ResultSet row = query.executeQuery()) {
        Rollup open = new Rollup();
        long at = 0;
        while (row.next()) {
          long bucket = (row.getLong(1) - stretch.from()) / stretch.width();
          if (bucket != at && !open.isEmpty()) {
            buckets.add(open.bucket(stretch.start(at), stretch.end(at)));
            open = new Rollup();
          }
          at = bucket;
          open.add(row.getDouble(2));
        }
        if (!open.isEmpty()) {
          buckets.add(open.bucket(stretch.start(at), stretch.end(at)));
        }
      }
      return buckets;
    }
  }

  /** Minutes as far as the table goes, and raw readings after that. */
  private List<Bucket> minutes(Stretch stretch, long until) throws SQLException {
    return buckets(
        "select (minute * 60000 - ?1) / ?2 as bucket, min(min), sum(sum) / sum(n), max(max), sum(n)"
            + " from (select minute, n, sum, min, max from minute where device = ?3 and series = ?4"
            + " and minute >= ?1 / 60000 and minute < ?5 / 60000 union all select time / 60000, "
            + one()
            + " and time >= ?6 and time < ?5) group by bucket order by bucket",
        stretch,
        stretch.width(),
        device,
        seriesId.orElseThrow(),
        stretch.to(),
        Math.max(stretch.from(), until * Rollups.HOUR_MILLIS));
  }

  /** Raw readings, each as n, sum, min and max of one value. */
  private String one() {
    String value = Columns.expression(series);
    return "1, "
        + String.join(", ", value, value, value)
        + " from reading where device = ?3 and "
        + value
        + " is not null";
  }

  /** Hours as far as the table goes, and raw readings after that. */
  private List<Bucket> hours(Stretch stretch, long until) throws SQLException {
    long end = stretch.to() / Rollups.HOUR_MILLIS;
    long from = stretch.from() / Rollups.HOUR_MILLIS;
    return buckets(
        "select (hour * 3600000 - ?1) / ?2 as bucket, min(min), sum(sum) / sum(n), max(max), sum(n)"
            + " from (select hour, n, sum, min, max from hour where device = ?3 and series = ?4"
            + " and hour >= ?5 and hour < ?6 union all"
            + " select time / 3600000, "
            + one()
            + " and time >= ?7 * 3600000 and time < ?8 * 3600000) group by bucket order by bucket",
        stretch,
        stretch.width(),
        device,
        seriesId.orElseThrow(),
        from,
        Math.min(end, until),
        Math.max(from, until),
        end);
  }

  /** A few wide buckets: whole hours inside, minutes at both ends, raw readings after them. */
  private List<Bucket> toTheMinute(Stretch stretch, long until) throws SQLException {
    List<Bucket> buckets = new ArrayList<>();
    for (long start = stretch.from(); start < stretch.to(); start += stretch.width()) {
      long end = Math.min(stretch.to(), start + stretch.width());
      long first = ceilDiv(start, Rollups.HOUR_MILLIS);
      long last = Math.max(first, Math.min(end / Rollups.HOUR_MILLIS, until));
      long inner = Math.min(end, first * Rollups.HOUR_MILLIS);
      long outer = Math.max(inner, last * Rollups.HOUR_MILLIS);
      buckets.addAll(
          buckets(
              "select 0, min(min), sum(sum) / sum(n), max(max), sum(n) as n from ("
                  + "select n, sum, min, max from minute where device = ?3 and series = ?4"
                  + " and minute >= ?1 / 60000 and minute < ?5 union all"
                  + " select n, sum, min, max from minute where device = ?3 and series = ?4"
                  + " and minute >= ?6 and minute < ?2 / 60000 union all"
                  + " select n, sum, min, max from hour where device = ?3 and series = ?4"
                  + " and hour >= ?7 and hour < ?8 union all select "
                  + one()
                  + " and time >= ?9 and time < ?2) having n > 0",
              new Stretch(start, end, end - start),
              end,
              device,
              seriesId.orElseThrow(),
              inner / Rollups.MINUTE_MILLIS,
              Math.min(end, outer) / Rollups.MINUTE_MILLIS,
              first,
              last,
              Math.max(start, until * Rollups.HOUR_MILLIS)));
    }
    return buckets;
  }

  private List<Bucket> buckets(String sql, Stretch stretch, long... values) throws SQLException {
    try (PreparedStatement query = connection.prepareStatement(sql)) {
      query.setLong(1, stretch.from());
      for (int i = 0; i < values.length; i++) {
        query.setLong(i + 2, values[i]);
      }
      List<Bucket> buckets = new ArrayList<>();
      try (ResultSet row = query.executeQuery()) {
        while (row.next()) {
          long at = row.getLong(1);
          buckets.add(
              new Bucket(
                  stretch.start(at),
                  stretch.end(at),
                  row.getDouble(2),
                  row.getDouble(3),
                  row.getDouble(4),
                  row.getLong(5)));
        }
      }
      return buckets;
    }
  }

  /** The first hour that stands in the raw readings alone. */
  private long until() throws SQLException {
    try (PreparedStatement query = connection.prepareStatement("select " + Rollups.UNTIL)) {
      query.setLong(1, device);
      try (ResultSet row = query.executeQuery()) {
        return row.getLong(1);
      }
    }
  }

  /**
   * Whether the raw rows of a stretch hold every value that its minutes have counted; those after
   * the last minute count for themselves.
   */
  private boolean rawIsWhole(Stretch stretch, List<Bucket> buckets) throws SQLException {
    if (seriesId.isEmpty()) {
      return true;
    }
    long until = until();
    long first = ceilDiv(stretch.from(), Rollups.MINUTE_MILLIS);
    long last = stretch.to() / Rollups.MINUTE_MILLIS;
    long open =
        number(
            "select count(*) from reading where device = ?1 and "
                + Columns.expression(series)
                + " is not null and time >= ?3 and time < ?4",
            Math.max(stretch.from(), until * Rollups.HOUR_MILLIS),
            stretch.to());
    return buckets.stream().mapToLong(Bucket::n).sum() >= count("minute", first, last) + open
        && minutesAreWhole(stretch.from(), stretch.to(), until);
  }

  /** Whether the minutes hold every value that the hours around a stretch have counted. */
  private boolean minutesAreWhole(long from, long to, long until) throws SQLException {
    if (from >= DroppedUntil.of(connection, Level.MINUTES)) {
      return true;
    }
    long first = Math.floorDiv(from, Rollups.HOUR_MILLIS);
    long last = Math.min(ceilDiv(to, Rollups.HOUR_MILLIS), until);
    return count("minute", first * Rollups.MINUTES, last * Rollups.MINUTES)
        >= count("hour", first, last);
  }

  private long count(String table, long from, long to) throws SQLException {
    return number(
        "select sum(n) from "
            + table
            + " where device = ?1 and series = ?2 and "
            + table
            + " >= ?3 and "
            + table
            + " < ?4",
        from,
        to);
  }

  private long number(String sql, long... further) throws SQLException {
    try (PreparedStatement query = connection.prepareStatement(sql)) {
      query.setLong(1, device);
      query.setLong(2, seriesId.orElseThrow());
      for (int i = 0; i < further.length; i++) {
        query.setLong(i + 3, further[i]);
      }
      try (ResultSet row = query.executeQuery()) {
        return row.getLong(1);
      }
    }
  }
}
