package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Minimum, maximum, sum and count of the good values of each minute, gathered over one batch and
 * added in the batch's own transaction. Only values that were new to the store may come in here, so
 * nothing counts twice.
 */
public final class MinuteRollups {
  /** The width of a roll-up. */
  public static final long MINUTE_MILLIS = 60_000;

  private record Key(long device, long series, long minute) {}

  private static final class Sum {
    private long n;
    private double sum;
    private double min = Double.POSITIVE_INFINITY;
    private double max = Double.NEGATIVE_INFINITY;
  }

  private final PreparedStatement upsert;
  private final Map<Key, Sum> batch = new LinkedHashMap<>();

  MinuteRollups(Connection connection) throws SQLException {
    upsert =
        connection.prepareStatement(
            "insert into minute(device, series, minute, n, sum, min, max)"
                + " values(?, ?, ?, ?, ?, ?, ?) on conflict do update set n = n + excluded.n,"
                + " sum = sum + excluded.sum, min = min(min, excluded.min),"
                + " max = max(max, excluded.max)");
  }

  void start() {
    batch.clear();
  }

  void add(long device, long series, Instant time, double value) {
    long minute = Math.floorDiv(time.toEpochMilli(), MINUTE_MILLIS);
    Sum sum = batch.computeIfAbsent(new Key(device, series, minute), key -> new Sum());
    sum.n++;
    sum.sum += value;
    sum.min = Math.min(sum.min, value);
    sum.max = Math.max(sum.max, value);
  }

  void flush() throws SQLException {
    for (Map.Entry<Key, Sum> entry : batch.entrySet()) {
      Sum sum = entry.getValue();
      upsert.setLong(1, entry.getKey().device());
      upsert.setLong(2, entry.getKey().series());
      upsert.setLong(3, entry.getKey().minute());
      upsert.setLong(4, sum.n);
      upsert.setDouble(5, sum.sum);
      upsert.setDouble(6, sum.min);
      upsert.setDouble(7, sum.max);
      upsert.executeUpdate();
    }
    batch.clear();
  }
}
