package org.layroom.dashboard.store.sqlite;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.OptionalDouble;

/** Reads times and numbers that may be missing out of a row. */
final class RowValues {
  private RowValues() {}

  static Instant instant(ResultSet row, int column) throws SQLException {
    return Instant.ofEpochMilli(row.getLong(column));
  }

  static OptionalDouble number(ResultSet row, int column) throws SQLException {
    double value = row.getDouble(column);
    return row.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
