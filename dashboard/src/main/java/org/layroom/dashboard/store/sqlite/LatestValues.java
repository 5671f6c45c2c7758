package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Types;
import java.util.LinkedHashMap;
import java.util.Map;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.device.telemetry.Reading;

/** The newest reading of each device and series, gathered over one batch. */
final class LatestValues {
  private record Key(long device, long series) {}

  private record Newest(SampleTimes times, Reading reading) {}

  private final RowsUpsert upsert;
  private final Map<Key, Newest> batch = new LinkedHashMap<>();

  LatestValues(Connection connection) {
    upsert =
        new RowsUpsert(
            connection,
            "insert into latest(device, series, time, received, value, unit, text, quality)",
            8,
            "time = excluded.time, received = excluded.received, value = excluded.value,"
                + " unit = excluded.unit, text = excluded.text, quality = excluded.quality"
                + " where excluded.time >= latest.time");
  }

  void start() {
    batch.clear();
  }

  void add(long device, long series, SampleTimes times, Reading reading) {
    Newest before = batch.get(new Key(device, series));
    if (before == null || !times.corrected().isBefore(before.times().corrected())) {
      batch.put(new Key(device, series), new Newest(times, reading));
    }
  }

  void flush() throws SQLException {
    upsert.write(
        batch.entrySet(),
        (statement, at, row) -> bind(statement, at, row.getKey(), row.getValue()));
    batch.clear();
  }

  private static void bind(PreparedStatement statement, int at, Key key, Newest newest)
      throws SQLException {
    Reading reading = newest.reading();
    statement.setLong(at, key.device());
    statement.setLong(at + 1, key.series());
    statement.setLong(at + 2, newest.times().corrected().toEpochMilli());
    statement.setLong(at + 3, newest.times().received().toEpochMilli());
    if (reading.value().isPresent()) {
      statement.setDouble(at + 4, reading.value().getAsDouble());
    } else {
      statement.setNull(at + 4, Types.REAL);
    }
    statement.setString(at + 5, reading.unit());
    if (reading.text().isPresent()) {
      statement.setString(at + 6, reading.text().get());
    } else {
      statement.setNull(at + 6, Types.VARCHAR);
    }
    statement.setString(at + 7, reading.quality().words());
  }
}
