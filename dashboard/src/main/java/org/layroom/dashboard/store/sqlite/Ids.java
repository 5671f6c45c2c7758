package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import org.layroom.device.telemetry.Channel;

/** Row ids of devices, outboxes and series, made when first met and remembered while writing. */
final class Ids {
  private record OutboxKey(long device, String name) {}

  private final Connection connection;
  private final Map<Channel, Long> devices = new HashMap<>();
  private final Map<OutboxKey, Long> outboxes = new HashMap<>();
  private final Map<String, Long> series = new HashMap<>();

  Ids(Connection connection) {
    this.connection = connection;
  }

  /** To be called after a rollback: rows made in that transaction are gone. */
  void forget() {
    devices.clear();
    outboxes.clear();
    series.clear();
  }

  long device(Channel channel) throws SQLException {
    Long known = devices.get(channel);
    if (known != null) {
      return known;
    }
    long id = findOrMake("device", "room, name", channel.room().value(), channel.device().value());
    devices.put(channel, id);
    return id;
  }

  long outbox(long device, String name) throws SQLException {
    OutboxKey key = new OutboxKey(device, name);
    Long known = outboxes.get(key);
    if (known != null) {
      return known;
    }
    long id = findOrMake("outbox", "device, name", device, name);
    outboxes.put(key, id);
    return id;
  }

  long series(String name) throws SQLException {
    Long known = series.get(name);
    if (known != null) {
      return known;
    }
    long id = findOrMake("series", "name", name);
    series.put(name, id);
    return id;
  }

  private long findOrMake(String table, String columns, Object... key) throws SQLException {
    String places = key.length == 1 ? "?" : "?, ?";
    try (PreparedStatement make =
            connection.prepareStatement(
                "insert or ignore into " + table + "(" + columns + ") values(" + places + ")");
        PreparedStatement find =
            connection.prepareStatement(
                "select id from " + table + " where (" + columns + ") = (" + places + ")")) {
      for (int i = 0; i < key.length; i++) {
        make.setObject(i + 1, key[i]);
        find.setObject(i + 1, key[i]);
      }
      make.executeUpdate();
      try (ResultSet row = find.executeQuery()) {
        return row.getLong(1);
      }
    }
  }
}
