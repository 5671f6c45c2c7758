package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * The good values of each minute, gathered over one batch and added in the batch's own transaction.
 * Only values that were new to the store may come in here, so nothing counts twice.
 */
public final class MinuteRollups {
  /** The width of a roll-up. */
  public static final long MINUTE_MILLIS = 60_000;

  private final RowsUpsert upsert;
  private final Map<Rollup.Key, Rollup> batch = new LinkedHashMap<>();

  MinuteRollups(Connection connection) {
    upsert = Rollup.into(connection, "minute");
  }

  void start() {
    batch.clear();
  }

  void add(long device, long series, Instant time, double value) {
    long minute = Math.floorDiv(time.toEpochMilli(), MINUTE_MILLIS);
    batch.computeIfAbsent(new Rollup.Key(device, series, minute), key -> new Rollup()).add(value);
  }

  void flush() throws SQLException {
    upsert.write(
        batch.entrySet(), (statement, at, row) -> row.getValue().bind(statement, at, row.getKey()));
    batch.clear();
  }
}
