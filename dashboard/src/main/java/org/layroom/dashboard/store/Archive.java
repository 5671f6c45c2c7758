package org.layroom.dashboard.store;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.Position;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Whole rows as they are kept: export, rejected values, and how far an outbox has come. */
public final class Archive {
  /** Rows that are dropped in one transaction. */
  private static final int PORTION = 2000;

  static final String DROP_READINGS =
      "delete from reading where id in (select id from reading where device = ?1 and time < ?2 and"
          + " received < ?2 limit "
          + PORTION
          + ")";

  private static final String DROP_REJECTED =
      "delete from rejected where id in (select id from rejected where received < ?2 limit ?1)";

  private final Database database;

  Archive(Database database) {
    this.database = database;
  }

  /** Streams the rows of a room in {@code [from, to)}, in order of time; few are in memory. */
  public void export(RoomName room, Instant from, Instant to, Consumer<StoredSample> taker) {
    database.read(
        "export readings",
        connection -> {
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select device.name, time, original, received, outbox.name, sequence, extra, "
                      + String.join(", ", Columns.BY_SERIES.values())
                      + " from reading join device on device.id = reading.device left join outbox"
                      + " on outbox.id = reading.outbox where room = ? and time >= ? and time < ?"
                      + " order by time, reading.id")) {
            query.setString(1, room.value());
            query.setLong(2, from.toEpochMilli());
            query.setLong(3, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                taker.accept(sample(room, row));
              }
            }
          }
          return Optional.empty();
        });
  }

  /** Takes all readings of one moment. */
  public interface ReadingsTaker {
    void take(Instant time, List<Reading> readings);
  }

  /**
   * Streams the rows of one device in {@code [from, to)}, in order of time, good and doubtful
   * values and faults alike.
   */
  public void readings(Channel channel, Instant from, Instant to, ReadingsTaker taker) {
    database.read(
        "read raw readings",
        connection -> {
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select time, extra, "
                      + String.join(", ", Columns.BY_SERIES.values())
                      + " from reading join device on device.id = reading.device"
                      + " where device.room = ? and device.name = ? and time >= ? and time < ?"
                      + " order by time, reading.id")) {
            query.setString(1, channel.room().value());
            query.setString(2, channel.device().value());
            query.setLong(3, from.toEpochMilli());
            query.setLong(4, to.toEpochMilli());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                taker.take(Rows.instant(row, 1), readings(row, 2));
              }
            }
          }
          return Optional.empty();
        });
  }

  /** The readings of a row whose column {@code extra} is followed by those of the series. */
  private static List<Reading> readings(ResultSet row, int extra) throws SQLException {
    List<Reading> readings = new ArrayList<>();
    int column = extra;
    for (String series : Columns.BY_SERIES.keySet()) {
      column++;
      OptionalDouble value = Rows.number(row, column);
      if (value.isPresent()) {
        readings.add(
            new Reading(series, Columns.unit(series), value, Optional.empty(), Quality.good()));
      }
    }
    readings.addAll(Extra.parse(Optional.ofNullable(row.getString(extra))).readings());
    return readings;
  }

  private static StoredSample sample(RoomName room, ResultSet row) throws SQLException {
    Optional<Position> position =
        Optional.ofNullable(row.getString(5)).map(outbox -> positionOf(outbox, row));
    return new StoredSample(
        new Channel(room, DeviceName.of(row.getString(1))),
        new SampleTimes(Rows.instant(row, 3), Rows.instant(row, 2), Rows.instant(row, 4)),
        position,
        readings(row, 7));
  }

  private static Position positionOf(String outbox, ResultSet row) {
    try {
      return new Position(outbox, row.getLong(6));
    } catch (SQLException e) {
      throw new StoreFailure("A row of the store is damaged", e);
    }
  }

  /** Every value of a room that was kept as rejected, oldest first. */
  public List<RejectedRecord> rejected(RoomName room) {
    return database.read(
        "read rejected values",
        connection -> {
          List<RejectedRecord> rejected = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select device.name, original, received, rejected.name, unit, value, reason"
                      + " from rejected join device on device.id = rejected.device where room = ?"
                      + " order by rejected.id")) {
            query.setString(1, room.value());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                rejected.add(
                    new RejectedRecord(
                        new Channel(room, DeviceName.of(row.getString(1))),
                        Rows.instant(row, 2),
                        Rows.instant(row, 3),
                        new Reading(
                            row.getString(4),
                            row.getString(5),
                            Rows.number(row, 6),
                            Optional.empty(),
                            Quality.good()),
                        row.getString(7)));
              }
            }
          }
          return rejected;
        });
  }

  /** The sequence numbers of an outbox that have a row of readings, in the order of their times. */
  public List<Long> sequences(Channel channel, String outbox) {
    return database.read(
        "read sequence numbers",
        connection -> {
          List<Long> sequences = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select sequence from reading join outbox on outbox.id = reading.outbox join"
                      + " device on device.id = outbox.device where room = ? and device.name = ?"
                      + " and outbox.name = ? order by time, sequence")) {
            query.setString(1, channel.room().value());
            query.setString(2, channel.device().value());
            query.setString(3, outbox);
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                sequences.add(row.getLong(1));
              }
            }
          }
          return sequences;
        });
  }

  /**
   * Drops raw rows and rejected values older than an instant, both by their own time and by when
   * they were received. Roll-ups and marks stay for ever. Found by index and dropped in portions,
   * so that no reading waits for it long.
   *
   * @return how many rows were dropped
   */
  public int dropRawBefore(Instant instant) {
    int dropped = 0;
    for (long device : devices()) {
      int portion = PORTION;
      while (portion == PORTION) {
        portion = drop(DROP_READINGS, device, instant);
        dropped += portion;
      }
    }
    int portion = PORTION;
    while (portion == PORTION) {
      portion = drop(DROP_REJECTED, PORTION, instant);
      dropped += portion;
    }
    return dropped;
  }

  private List<Long> devices() {
    return database.read(
        "read devices",
        connection -> {
          List<Long> ids = new ArrayList<>();
          try (PreparedStatement query = connection.prepareStatement("select id from device");
              ResultSet row = query.executeQuery()) {
            while (row.next()) {
              ids.add(row.getLong(1));
            }
          }
          return ids;
        });
  }

  private int drop(String sql, long first, Instant instant) {
    return database.write(
        "drop old readings",
        connection -> {
          try (PreparedStatement delete = connection.prepareStatement(sql)) {
            delete.setLong(1, first);
            delete.setLong(2, instant.toEpochMilli());
            return delete.executeUpdate();
          }
        });
  }
}
