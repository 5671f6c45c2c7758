package org.layroom.dashboard.store.sqlite;

import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.dashboard.store.Archive;
import org.layroom.dashboard.store.ArchivedSample;
import org.layroom.dashboard.store.Level;
import org.layroom.dashboard.store.RejectedRecord;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Spared;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Whole rows of the reading table: exported, replayed, dropped when they are old. */
final class SqliteArchive implements Archive {
  /** Rows that are dropped in one transaction. */
  private static final int PORTION = 2000;

  /** Only what is in the next coarser table already: readings of closed hours. */
  static final String DROP_READINGS =
      "delete from reading where id in (select id from reading where device = ?1 and time >= ?2"
          + " and time < min(?3, "
          + Rollups.HOUR_MILLIS
          + " * "
          + Rollups.UNTIL
          + ") and received < ?3 limit "
          + PORTION
          + ")";

  private static final String DROP_REJECTED =
      "delete from rejected where id in (select id from rejected where device = ?1"
          + " and received >= ?2 and received < ?3 limit "
          + PORTION
          + ")";

  /** Of minutes, too, only those of closed hours. */
  private static final String DROP_MINUTES =
      "delete from minute where (device, series, minute) in (select device, series, minute from"
          + " series join minute on minute.series = series.id where device = ?1"
          + " and minute >= ?2 / 60000 and minute < min(?3 / 60000, (select 60 * max(hour) + 60"
          + " from hour where hour.device = ?1 and hour.series = series.id)) limit "
          + PORTION
          + ")";

  private static final String DROP_HOURS =
      "delete from hour where (device, series, hour) in (select device, series, hour from series"
          + " join hour on hour.series = series.id where device = ?1 and hour >= ?2 / 3600000"
          + " and hour < ?3 / 3600000 limit "
          + PORTION
          + ")";

  private final Database database;

  SqliteArchive(Database database) {
    this.database = database;
  }

  @Override
  public void export(RoomName room, Instant from, Instant to, Consumer<ArchivedSample> taker) {
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

  @Override
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
                taker.take(RowValues.instant(row, 1), RowValues.readings(row, 2));
              }
            }
          }
          return Optional.empty();
        });
  }

  private static ArchivedSample sample(RoomName room, ResultSet row) throws SQLException {
    Optional<OutboxPosition> position =
        Optional.ofNullable(row.getString(5)).map(outbox -> positionOf(outbox, row));
    return new ArchivedSample(
        new Channel(room, DeviceName.of(row.getString(1))),
        new SampleTimes(
            RowValues.instant(row, 3), RowValues.instant(row, 2), RowValues.instant(row, 4)),
        position,
        RowValues.readings(row, 7));
  }

  private static OutboxPosition positionOf(String outbox, ResultSet row) {
    try {
      return new OutboxPosition(outbox, row.getLong(6));
    } catch (SQLException e) {
      throw new StoreFailure("A row of the store is damaged", e);
    }
  }

  @Override
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
                        RowValues.instant(row, 2),
                        RowValues.instant(row, 3),
                        new Reading(
                            row.getString(4),
                            row.getString(5),
                            RowValues.number(row, 6),
                            Optional.empty(),
                            Quality.good()),
                        row.getString(7)));
              }
            }
          }
          return rejected;
        });
  }

  @Override
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

  @Override
  public int dropBefore(Level level, Instant instant, List<Spared> spared) {
    List<String> statements =
        switch (level) {
          case READINGS -> List.of(DROP_READINGS, DROP_REJECTED);
          case MINUTES -> List.of(DROP_MINUTES);
          case HOURS -> List.of(DROP_HOURS);
        };
    int dropped = 0;
    for (Device device : devices()) {
      long unit = level == Level.READINGS ? 1 : Rollups.HOUR_MILLIS;
      for (Stretch stretch : Stretch.before(instant, device.room(), spared, unit)) {
        for (String sql : statements) {
          int portion = PORTION;
          while (portion == PORTION) {
            portion = drop(level, sql, device.id(), stretch);
            dropped += portion;
          }
        }
      }
    }
    return dropped;
  }

  /** What is to be dropped of one room, in milliseconds. */
  private record Stretch(long from, long to) {

    static List<Stretch> before(Instant instant, RoomName room, List<Spared> spared, long unit) {
      long end = Math.floorDiv(instant.toEpochMilli(), unit) * unit;
      long from = 0;
      List<Stretch> stretches = new ArrayList<>();
      for (Spared one :
          spared.stream()
              .filter(each -> each.room().equals(room))
              .sorted(Comparator.comparing(Spared::from))
              .toList()) {
        long to = Math.min(end, Math.floorDiv(one.from().toEpochMilli(), unit) * unit);
        if (from < to) {
          stretches.add(new Stretch(from, to));
        }
        from = Math.max(from, StripQuery.ceilDiv(one.to().toEpochMilli(), unit) * unit);
      }
      if (from < end) {
        stretches.add(new Stretch(from, end));
      }
      return stretches;
    }
  }

  private record Device(long id, RoomName room) {}

  private List<Device> devices() {
    return database.read(
        "read devices",
        connection -> {
          List<Device> devices = new ArrayList<>();
          try (PreparedStatement query =
                  connection.prepareStatement("select id, room from device");
              ResultSet row = query.executeQuery()) {
            while (row.next()) {
              devices.add(new Device(row.getLong(1), RoomName.of(row.getString(2))));
            }
          }
          return devices;
        });
  }

  private int drop(Level level, String sql, long device, Stretch stretch) {
    return database.write(
        "drop old readings",
        connection -> {
          try (PreparedStatement delete = connection.prepareStatement(sql)) {
            delete.setLong(1, device);
            delete.setLong(2, stretch.from());
            delete.setLong(3, stretch.to());
            int dropped = delete.executeUpdate();
            if (dropped > 0) {
              DroppedUntil.raise(connection, level, stretch.to());
            }
            return dropped;
          }
        });
  }
}
