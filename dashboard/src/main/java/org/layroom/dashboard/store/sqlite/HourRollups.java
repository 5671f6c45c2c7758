package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The good values of each hour, in UTC. An hour is written once, from its minutes, when a reading
 * of a later hour comes: so a commit costs nothing for it. The last hour in the table says how far
 * a series has come. Of all hours up to it the table holds everything, since what comes late for
 * them is added in the same transaction as its minutes; what is after it stands in the minutes
 * alone.
 */
public final class HourRollups {
  /** Minutes of an hour. */
  public static final long MINUTES = 60;

  /** Milliseconds of an hour. */
  static final long HOUR_MILLIS = MINUTES * MinuteRollups.MINUTE_MILLIS;

  /** Adds the hours of a stretch of minutes in which none is in the table yet. */
  static final String FROM_MINUTES =
      "insert or ignore into hour(device, series, hour, n, sum, min, max) select device, series, minute / 60,"
          + " sum(n), sum(sum), min(min), max(max) from minute where device = ?1 and series = ?2"
          + " and minute >= ?3 * 60 and minute < ?4 * 60 group by device, series, minute / 60";

  private static final long NEVER = Long.MIN_VALUE / HOUR_MILLIS;

  private record Key(long device, long series) {}

  /** How far a series has come. */
  private static final class Progress {
    /** The first hour that is not in the table. */
    private long until;

    /** The first hour from there on that has minutes. */
    private long open;
  }

  /** The hours of a batch that are not in the table yet. */
  private record Newer(long first, long last) {
    Newer with(long hour) {
      return new Newer(Math.min(first, hour), Math.max(last, hour));
    }
  }

  private final PreparedStatement last;
  private final PreparedStatement oldestMinute;
  private final PreparedStatement fromMinutes;
  private final RowsUpsert upsert;
  private final Map<Key, Progress> progress = new HashMap<>();
  private final Map<Rollup.Key, Rollup> late = new LinkedHashMap<>();
  private final Map<Key, Newer> newer = new LinkedHashMap<>();

  HourRollups(Connection connection) throws SQLException {
    last =
        connection.prepareStatement("select max(hour) from hour where device = ? and series = ?");
    oldestMinute =
        connection.prepareStatement(
            "select min(minute) from minute where device = ?1 and series = ?2"
                + " and minute >= ?3 * 60");
    fromMinutes = connection.prepareStatement(FROM_MINUTES);
    upsert = Rollup.into(connection, "hour");
  }

  void start() {
    late.clear();
    newer.clear();
  }

  /** To be called after a rollback. */
  void forget() {
    progress.clear();
  }

  void add(long device, long series, Instant time, double value) throws SQLException {
    long hour = Math.floorDiv(time.toEpochMilli(), HOUR_MILLIS);
    Key key = new Key(device, series);
    if (hour < of(key).until) {
      late.computeIfAbsent(new Rollup.Key(device, series, hour), k -> new Rollup()).add(value);
    } else {
      newer.merge(key, new Newer(hour, hour), (before, one) -> before.with(hour));
    }
  }

  /** Writes what is due; the minutes of the batch must be in their table. */
  void flush() throws SQLException {
    upsert.write(
        late.entrySet(), (statement, at, row) -> row.getValue().bind(statement, at, row.getKey()));
    for (Map.Entry<Key, Newer> entry : newer.entrySet()) {
      Progress reached = of(entry.getKey());
      reached.open = Math.min(reached.open, entry.getValue().first());
      if (entry.getValue().last() > reached.open) {
        close(entry.getKey(), reached, entry.getValue().last());
      }
    }
    start();
  }

  private void close(Key key, Progress reached, long before) throws SQLException {
    fromMinutes.setLong(1, key.device());
    fromMinutes.setLong(2, key.series());
    fromMinutes.setLong(3, reached.open);
    fromMinutes.setLong(4, before);
    fromMinutes.executeUpdate();
    progress.remove(key);
  }

  private Progress of(Key key) throws SQLException {
    Progress known = progress.get(key);
    if (known == null) {
      known = new Progress();
      last.setLong(1, key.device());
      last.setLong(2, key.series());
      known.until = number(last, NEVER - 1) + 1;
      oldestMinute.setLong(1, key.device());
      oldestMinute.setLong(2, key.series());
      oldestMinute.setLong(3, known.until);
      known.open = Math.floorDiv(number(oldestMinute, Long.MAX_VALUE), MINUTES);
      progress.put(key, known);
    }
    return known;
  }

  private static long number(PreparedStatement query, long otherwise) throws SQLException {
    try (ResultSet row = query.executeQuery()) {
      long value = row.getLong(1);
      return row.wasNull() ? otherwise : value;
    }
  }
}
