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

  private final PreparedStatement upsert;
  private final Map<Key, Newest> batch = new LinkedHashMap<>();

  LatestValues(Connection connection) throws SQLException {
    upsert =
        connection.prepareStatement(
            "insert into latest(device, series, time, received, value, unit, text, quality)"
                + " values(?, ?, ?, ?, ?, ?, ?, ?) on conflict do update set time = excluded.time,"
                + " received = excluded.received, value = excluded.value, unit = excluded.unit,"
                + " text = excluded.text, quality = excluded.quality"
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
    for (Map.Entry<Key, Newest> entry : batch.entrySet()) {
      Newest newest = entry.getValue();
      Reading reading = newest.reading();
      upsert.setLong(1, entry.getKey().device());
      upsert.setLong(2, entry.getKey().series());
      upsert.setLong(3, newest.times().corrected().toEpochMilli());
      upsert.setLong(4, newest.times().received().toEpochMilli());
      if (reading.value().isPresent()) {
        upsert.setDouble(5, reading.value().getAsDouble());
      } else {
        upsert.setNull(5, Types.REAL);
      }
      upsert.setString(6, reading.unit());
      if (reading.text().isPresent()) {
        upsert.setString(7, reading.text().get());
      } else {
        upsert.setNull(7, Types.VARCHAR);
      }
      upsert.setString(8, reading.quality().words());
      upsert.executeUpdate();
    }
    batch.clear();
  }
}
