package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import org.layroom.device.telemetry.Reading;

/** Minutes and hours that are gathered, and then written in a few statements. */
final class RollupRows {
  private final RowsUpsert minuteTable;
  private final RowsUpsert hourTable;
  private final Map<Rollup.Key, Rollup> minutes = new LinkedHashMap<>();
  private final Map<Rollup.Key, Rollup> hours = new LinkedHashMap<>();

  /**
   * Gathers nothing yet.
   *
   * @param onConflict what becomes of a row that is there already
   */
  RollupRows(Connection connection, String onConflict) {
    minuteTable = table(connection, "minute", onConflict);
    hourTable = table(connection, "hour", onConflict);
  }

  /**
   * Rows of {@code minute} or {@code hour}, whose column has the table's name. A row that the table
   * refuses (an hour before 1970) is left out.
   */
  private static RowsUpsert table(Connection connection, String table, String onConflict) {
    return new RowsUpsert(
        connection,
        "insert or ignore into " + table + "(device, series, " + table + ", n, sum, min, max)",
        7,
        onConflict);
  }

  void forget() {
    minutes.clear();
    hours.clear();
  }

  void add(long device, long series, Instant time, Reading reading) {
    double value = reading.value().orElseThrow();
    long minute = Math.floorDiv(time.toEpochMilli(), Rollups.MINUTE_MILLIS);
    long hour = Math.floorDiv(minute, Rollups.MINUTES);
    add(minutes, new Rollup.Key(device, series, minute), value);
    add(hours, new Rollup.Key(device, series, hour), value);
  }

  private static void add(Map<Rollup.Key, Rollup> rows, Rollup.Key key, double value) {
    rows.computeIfAbsent(key, none -> new Rollup()).add(value);
  }

  void write() throws SQLException {
    minuteTable.write(minutes.entrySet(), RollupRows::bind);
    hourTable.write(hours.entrySet(), RollupRows::bind);
    forget();
  }

  private static void bind(PreparedStatement statement, int at, Map.Entry<Rollup.Key, Rollup> row)
      throws SQLException {
    row.getValue().bind(statement, at, row.getKey());
  }
}
