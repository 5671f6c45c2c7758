package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;
import org.layroom.dashboard.store.RejectedReading;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.device.telemetry.Reading;

/**
 * Writes wide reading rows and rejected values. What is already there is left as it is: every
 * method says which readings were new.
 */
final class ReadingRows {
  private static final List<String> SERIES = List.copyOf(Columns.BY_SERIES.keySet());
  private static final String COLUMN_LIST = String.join(", ", Columns.BY_SERIES.values());
  private static final int FIRST_VALUE = 7;

  private final PreparedStatement insert;
  private final PreparedStatement findPlain;
  private final PreparedStatement updatePlain;
  private final PreparedStatement insertRejected;

  ReadingRows(Connection connection) throws SQLException {
    insert =
        connection.prepareStatement(
            "insert or ignore into reading(device, time, original, received, outbox, sequence, "
                + COLUMN_LIST
                + ", extra) values(?, ?, ?, ?, ?, ?"
                + ", ?".repeat(SERIES.size() + 1)
                + ")");
    findPlain =
        connection.prepareStatement(
            "select id, time, "
                + COLUMN_LIST
                + ", extra from reading where device = ? and original = ? and outbox is null");
    updatePlain =
        connection.prepareStatement(
            "update reading set "
                + String.join(" = ?, ", Columns.BY_SERIES.values())
                + " = ?, extra = ? where id = ?");
    insertRejected =
        connection.prepareStatement(
            "insert or ignore into rejected(device, original, received, outbox, sequence, name,"
                + " unit, value, reason) values(?, ?, ?, ?, ?, ?, ?, ?, ?)");
  }

  /** Inserts a row unless that position is there. Gives the readings that were new. */
  List<Reading> insertPositioned(
      long device, long outbox, long sequence, SampleTimes times, List<Reading> readings)
      throws SQLException {
    return insertRow(device, Optional.of(outbox), OptionalLong.of(sequence), times, readings);
  }

  /** The readings that were new, and the time of the row that now holds them. */
  record Merged(List<Reading> added, SampleTimes times) {}

  /** Merges into the row of this device and original time, if there is one. */
  Merged merge(long device, SampleTimes times, List<Reading> readings) throws SQLException {
    findPlain.setLong(1, device);
    findPlain.setLong(2, times.original().toEpochMilli());
    long id;
    Instant held;
    Map<String, Double> values = new HashMap<>();
    ExtraColumn extra;
    try (ResultSet row = findPlain.executeQuery()) {
      if (!row.next()) {
        return new Merged(
            insertRow(device, Optional.empty(), OptionalLong.empty(), times, readings), times);
      }
      id = row.getLong(1);
      held = Instant.ofEpochMilli(row.getLong(2));
      for (int i = 0; i < SERIES.size(); i++) {
        double value = row.getDouble(3 + i);
        if (!row.wasNull()) {
          values.put(SERIES.get(i), value);
        }
      }
      extra = ExtraColumn.parse(Optional.ofNullable(row.getString(3 + SERIES.size())));
    }
    List<Reading> fresh = new ArrayList<>();
    for (Reading reading : readings) {
      if (!values.containsKey(reading.name()) && !extra.has(reading.name())) {
        place(reading, values, extra);
        fresh.add(reading);
      }
    }
    if (!fresh.isEmpty()) {
      int next = bindValues(updatePlain, 1, values, extra);
      updatePlain.setLong(next, id);
      updatePlain.executeUpdate();
    }
    return new Merged(fresh, new SampleTimes(times.original(), held, times.received()));
  }

  /** Keeps an impossible value. False when it was there before. */
  boolean insertRejected(
      long device,
      Optional<Long> outbox,
      OptionalLong sequence,
      SampleTimes times,
      RejectedReading rejected)
      throws SQLException {
    insertRejected.setLong(1, device);
    insertRejected.setLong(2, times.original().toEpochMilli());
    insertRejected.setLong(3, times.received().toEpochMilli());
    bindPosition(insertRejected, 4, outbox, sequence);
    insertRejected.setString(6, rejected.reading().name());
    insertRejected.setString(7, rejected.reading().unit());
    if (rejected.reading().value().isPresent()) {
      insertRejected.setDouble(8, rejected.reading().value().getAsDouble());
    } else {
      insertRejected.setNull(8, Types.REAL);
    }
    insertRejected.setString(9, rejected.reason());
    return insertRejected.executeUpdate() > 0;
  }

  private List<Reading> insertRow(
      long device,
      Optional<Long> outbox,
      OptionalLong sequence,
      SampleTimes times,
      List<Reading> readings)
      throws SQLException {
    Map<String, Double> values = new HashMap<>();
    ExtraColumn extra = ExtraColumn.empty();
    readings.forEach(reading -> place(reading, values, extra));
    insert.setLong(1, device);
    insert.setLong(2, times.corrected().toEpochMilli());
    insert.setLong(3, times.original().toEpochMilli());
    insert.setLong(4, times.received().toEpochMilli());
    bindPosition(insert, 5, outbox, sequence);
    bindValues(insert, FIRST_VALUE, values, extra);
    return insert.executeUpdate() > 0 ? readings : List.of();
  }

  private static void place(Reading reading, Map<String, Double> values, ExtraColumn extra) {
    if (reading.quality().isGood()
        && reading.value().isPresent()
        && Columns.BY_SERIES.containsKey(reading.name())) {
      values.put(reading.name(), reading.value().getAsDouble());
    } else {
      extra.add(reading);
    }
  }

  private static void bindPosition(
      PreparedStatement statement, int at, Optional<Long> outbox, OptionalLong sequence)
      throws SQLException {
    if (outbox.isPresent() && sequence.isPresent()) {
      statement.setLong(at, outbox.get());
      statement.setLong(at + 1, sequence.getAsLong());
    } else {
      statement.setNull(at, Types.INTEGER);
      statement.setNull(at + 1, Types.INTEGER);
    }
  }

  private static int bindValues(
      PreparedStatement statement, int first, Map<String, Double> values, ExtraColumn extra)
      throws SQLException {
    int at = first;
    for (String series : SERIES) {
      Double value = values.get(series);
      if (value == null) {
        statement.setNull(at, Types.REAL);
      } else {
        statement.setDouble(at, value);
      }
      at++;
    }
    Optional<String> column = extra.column();
    if (column.isPresent()) {
      statement.setString(at, column.get());
    } else {
      statement.setNull(at, Types.VARCHAR);
    }
    return at + 1;
  }
}
