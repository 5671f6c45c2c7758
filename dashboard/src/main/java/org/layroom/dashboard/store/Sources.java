package org.layroom.dashboard.store;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Rooms, devices, what each last said, and which device speaks for a series. */
public final class Sources {
  private final Database database;

  Sources(Database database) {
    this.database = database;
  }

  record Source(long id, DeviceName device) {}

  /** The device chosen for a series, else the first by name that has it. */
  static Optional<Source> find(Connection connection, RoomName room, String series)
      throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement(
            "select device.id, device.name from latest join device on device.id = latest.device"
                + " join series on series.id = latest.series left join source"
                + " on source.room = device.room and source.series = series.name"
                + " where device.room = ? and series.name = ?"
                + " and coalesce(source.device, device.name) = device.name"
                + " order by device.name limit 1")) {
      query.setString(1, room.value());
      query.setString(2, series);
      try (ResultSet row = query.executeQuery()) {
        return row.next()
            ? Optional.of(new Source(row.getLong(1), DeviceName.of(row.getString(2))))
            : Optional.empty();
      }
    }
  }

  /** Who speaks for a series in a room; empty when no device has it, or the chosen one has not. */
  public Optional<DeviceName> source(RoomName room, String series) {
    return database.read(
        "look up a device", connection -> find(connection, room, series).map(Source::device));
  }

  /** Lets one device speak for a series from now on, in the past too. */
  public void setSource(RoomName room, String series, DeviceName device) {
    Columns.expression(series);
    database.write(
        "choose a device",
        connection -> {
          try (PreparedStatement upsert =
              connection.prepareStatement(
                  "insert into source(room, series, device) values(?, ?, ?)"
                      + " on conflict do update set device = excluded.device")) {
            upsert.setString(1, room.value());
            upsert.setString(2, series);
            upsert.setString(3, device.value());
            return upsert.executeUpdate();
          }
        });
  }

  /** The devices that were chosen for a series of a room, by series. */
  public Map<String, DeviceName> chosen(RoomName room) {
    return database.read(
        "read chosen devices",
        connection -> {
          Map<String, DeviceName> chosen = new HashMap<>();
          try (PreparedStatement query =
              connection.prepareStatement("select series, device from source where room = ?")) {
            query.setString(1, room.value());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                chosen.put(row.getString(1), DeviceName.of(row.getString(2)));
              }
            }
          }
          return chosen;
        });
  }

  /** All rooms that a device ever spoke from, by name. */
  public List<RoomName> rooms() {
    return database.read(
        "list rooms",
        connection -> {
          List<RoomName> rooms = new ArrayList<>();
          try (PreparedStatement query =
                  connection.prepareStatement("select distinct room from device order by room");
              ResultSet row = query.executeQuery()) {
            while (row.next()) {
              rooms.add(RoomName.of(row.getString(1)));
            }
          }
          return rooms;
        });
  }

  /** All devices of a room, by name. */
  public List<DeviceRecord> devices(RoomName room) {
    return database.read(
        "list devices",
        connection -> {
          List<DeviceRecord> devices = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select name, status, status_since, status_received from device"
                      + " where room = ? order by name")) {
            query.setString(1, room.value());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                devices.add(
                    new DeviceRecord(
                        new Channel(room, DeviceName.of(row.getString(1))), said(row)));
              }
            }
          }
          return devices;
        });
  }

  private static Optional<DeviceRecord.Said> said(ResultSet row) throws SQLException {
    byte[] body = row.getBytes(2);
    if (body == null) {
      return Optional.empty();
    }
    try {
      return Optional.of(
          new DeviceRecord.Said(
              DeviceStatus.read(body), Rows.instant(row, 3), Rows.instant(row, 4)));
    } catch (MalformedMessage e) {
      throw new StoreFailure("A row of the store is damaged: device " + row.getString(1), e);
    }
  }

  /** The newest reading of every device and series of a room, faults and doubtful ones included. */
  public List<LatestReading> latest(RoomName room) {
    return database.read(
        "read the latest values",
        connection -> {
          List<LatestReading> latest = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select device.name, series.name, unit, value, text, quality, time, received"
                      + " from latest join device on device.id = latest.device"
                      + " join series on series.id = latest.series where room = ?"
                      + " order by device.name, series.name")) {
            query.setString(1, room.value());
            try (ResultSet row = query.executeQuery()) {
              while (row.next()) {
                Reading reading =
                    new Reading(
                        row.getString(2),
                        row.getString(3),
                        Rows.number(row, 4),
                        Optional.ofNullable(row.getString(5)),
                        Quality.parse(row.getString(6)));
                latest.add(
                    new LatestReading(
                        new Channel(room, DeviceName.of(row.getString(1))),
                        reading,
                        Rows.instant(row, 7),
                        Rows.instant(row, 8)));
              }
            }
          }
          return latest;
        });
  }
}
