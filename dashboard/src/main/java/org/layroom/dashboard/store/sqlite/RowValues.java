package org.layroom.dashboard.store.sqlite;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/** Reads times, numbers that may be missing, and readings out of a row. */
final class RowValues {
  private RowValues() {}

  static Instant instant(ResultSet row, int column) throws SQLException {
    return Instant.ofEpochMilli(row.getLong(column));
  }

  static OptionalDouble number(ResultSet row, int column) throws SQLException {
    double value = row.getDouble(column);
    return row.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  /** The readings of a row whose column {@code extra} is followed by those of the series. */
  static List<Reading> readings(ResultSet row, int extra) throws SQLException {
    List<Reading> readings = new ArrayList<>();
    int column = extra;
    for (String series : Columns.BY_SERIES.keySet()) {
      column++;
      OptionalDouble value = number(row, column);
      if (value.isPresent()) {
        readings.add(
            new Reading(series, Columns.unit(series), value, Optional.empty(), Quality.good()));
      }
    }
    readings.addAll(ExtraColumn.parse(Optional.ofNullable(row.getString(extra))).readings());
    return readings;
  }
}
