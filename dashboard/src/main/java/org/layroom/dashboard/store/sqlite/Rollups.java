package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.Map;
import org.layroom.device.telemetry.Reading;

/**
 * The good values of each minute and each hour, in UTC. The minutes and hours of a device are
 * written once, from its raw readings, when its first reading of a later hour comes: so a commit
 * costs nothing for them. The last hour in the table says how far a device has come. Up to it the
 * tables hold everything, since what comes late is added to its minute and hour in the transaction
 * that stores it; what is after it stands in the raw readings alone.
 */
public final class Rollups {
  /** Milliseconds of a minute. */
  public static final long MINUTE_MILLIS = 60_000;

  /** Minutes of an hour. */
  public static final long MINUTES = 60;

  /** Milliseconds of an hour. */
  static final long HOUR_MILLIS = MINUTES * MINUTE_MILLIS;

  /** The first hour of device {@code ?1} that stands in the raw readings alone; null if all do. */
  static final String UNTIL =
      "(select max(newest) + 1 from (select (select max(hour) from hour where device = ?1"
          + " and series = series.id) as newest from series))";

  private static final long NEVER = Long.MIN_VALUE / HOUR_MILLIS;

  /** How far a device has come. */
  private static final class Progress {
    /** The first hour that is not in the tables. */
    private long until;

    /** The first hour from there on that has readings. */
    private long open;
  }

  /** The hours of a batch that are not in the tables yet. */
  private record Newer(long first, long last) {
    Newer with(long hour) {
      return new Newer(Math.min(first, hour), Math.max(last, hour));
    }
  }

  private final Ids ids;
  private final PreparedStatement until;
  private final PreparedStatement oldest;
  private final PreparedStatement readings;
  private final RollupRows late;
  private final RollupRows closed;
  private final Map<Long, Progress> progress = new HashMap<>();

  private final Map<Long, Newer> newer = new LinkedHashMap<>();

  Rollups(Connection connection, Ids ids) throws SQLException {
    this.ids = ids;
    until = connection.prepareStatement("select " + UNTIL);
    oldest =
        connection.prepareStatement("select min(time) from reading where device = ? and time >= ?");
    readings =
        connection.prepareStatement(
            "select time, extra, "
                + String.join(", ", Columns.BY_SERIES.values())
                + " from reading where device = ? and time >= ? and time < ? order by time");
    late = new RollupRows(connection, Rollup.ADD);
    closed = new RollupRows(connection, Rollup.FULLER);
  }

  void start() {
    late.forget();
    newer.clear();
  }

  /** To be called after a rollback. */
  void forget() {
    progress.clear();
  }

  /** A value that is new to the store. */
  void add(long device, Instant time, Reading reading) throws SQLException {
    if (!counts(reading)) {
      return;
    }
    long hour = Math.floorDiv(time.toEpochMilli(), HOUR_MILLIS);
    if (hour < of(device).until) {
      late.add(device, ids.series(reading.name()), time, reading);
    } else {
      newer.merge(device, new Newer(hour, hour), (before, one) -> before.with(hour));
    }
  }

  private static boolean counts(Reading reading) {
    return reading.quality().isGood() && reading.value().isPresent();
  }

  /** Writes what is due; the readings of the batch must be in their table. */
  void flush() throws SQLException {
    late.write();
    for (Map.Entry<Long, Newer> entry : newer.entrySet()) {
      Progress reached = of(entry.getKey());
      long last = entry.getValue().last();
      reached.open = Math.min(reached.open, entry.getValue().first());
      if (last > reached.open) {
        close(entry.getKey(), reached.open, last);
        reached.until = last;
        reached.open = last;
      }
    }
    newer.clear();
  }

  /** Writes the minutes and hours from one hour to before another, from the raw readings. */
  private void close(long device, long from, long before) throws SQLException {
    readings.setLong(1, device);
    readings.setLong(2, from * HOUR_MILLIS);
    readings.setLong(3, before * HOUR_MILLIS);
    closed.forget();
    long hour = from;
    try (ResultSet row = readings.executeQuery()) {
      while (row.next()) {
        Instant time = RowValues.instant(row, 1);
        long at = Math.floorDiv(time.toEpochMilli(), HOUR_MILLIS);
        if (at != hour) {
          closed.write();
          hour = at;
        }
        for (Reading reading : RowValues.readings(row, 2)) {
          if (counts(reading)) {
            closed.add(device, ids.series(reading.name()), time, reading);
          }
        }
      }
    }
    closed.write();
  }

  private Progress of(long device) throws SQLException {
    Progress known = progress.get(device);
    if (known == null) {
      known = new Progress();
      until.setLong(1, device);
      known.until = number(until, NEVER);
      oldest.setLong(1, device);
      oldest.setLong(2, known.until * HOUR_MILLIS);
      known.open = Math.floorDiv(number(oldest, Long.MAX_VALUE), HOUR_MILLIS);
      progress.put(device, known);
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
