package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.store.LatestReading;
import org.layroom.dashboard.store.Sources;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.RoomName;

/** Rooms, devices and which of them speaks for a series, from the tables of names. */
final class SqliteSources implements Sources {
  private final Database database;

  SqliteSources(Database database) {
    this.database = database;
  }

  record Source(long id, DeviceName device) {}

  /** The device chosen for a series, else the one first heard of that has it. */
  static Optional<Source> find(Connection connection, RoomName room, String series)
      throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement(
            "select device.id, device.name from latest join device on device.id = latest.device"
                + " join series on series.id = latest.series left join source"
                + " on source.room = device.room and source.series = series.name"
                + " where device.room = ? and series.name = ?"
                + " and coalesce(source.device, device.name) = device.name"
                + " order by device.id limit 1")) {
      query.setString(1, room.value());
      query.setString(2, series);
      try (ResultSet row = query.executeQuery()) {
        return row.next()
            ? Optional.of(new Source(row.getLong(1), DeviceName.of(row.getString(2))))
            : Optional.empty();
      }
    }
  }

  @Override
  public Optional<DeviceName> source(RoomName room, String series) {
    return database.read(
        "look up a device", connection -> find(connection, room, series).map(Source::device));
  }

  @Override
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

  @Override
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

  @Override
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

  @Override
  public List<DeviceRecord> devices(RoomName room) {
    return database.read(
        "list devices",
        connection -> {
          List<DeviceRecord> devices = new ArrayList<>();
          try (PreparedStatement query =
              connection.prepareStatement(
                  "select name, status, status_since, status_received from device"
                      + " where room = ? order by id")) {
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
              DeviceStatus.read(body), RowValues.instant(row, 3), RowValues.instant(row, 4)));
    } catch (MalformedMessage e) {
      throw new StoreFailure("A row of the store is damaged: device " + row.getString(1), e);
    }
  }

  @Override
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
                        RowValues.number(row, 4),
                        Optional.ofNullable(row.getString(5)),
                        Quality.parse(row.getString(6)));
                latest.add(
                    new LatestReading(
                        new Channel(room, DeviceName.of(row.getString(1))),
                        reading,
                        RowValues.instant(row, 7),
                        RowValues.instant(row, 8)));
              }
            }
          }
          return latest;
        });
  }
}
