package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Locale;
import org.layroom.dashboard.store.Level;

/**
 * Before which moment rows of a level may have been dropped, kept among the settings. After it the
 * level is whole, and nobody need count.
 */
public final class DroppedUntil {
  private DroppedUntil() {}

  private static String name(Level level) {
    return "dropped/" + level.name().toLowerCase(Locale.ROOT);
  }

  /** In milliseconds; the beginning of time when nothing was ever dropped. */
  static long of(Connection connection, Level level) throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement("select value from setting where name = ?")) {
      query.setString(1, name(level));
      try (ResultSet row = query.executeQuery()) {
        return row.next() ? Long.parseLong(row.getString(1)) : Long.MIN_VALUE;
      }
    }
  }

  /** Whether minutes were ever dropped. */
  public static boolean minutes(Connection connection) throws SQLException {
    return of(connection, Level.MINUTES) != Long.MIN_VALUE;
  }

  /** To be written in the transaction that drops. */
  static void raise(Connection connection, Level level, long until) throws SQLException {
    if (of(connection, level) < until) {
      set(connection, level, until);
    }
  }

  /** For a store whose settings were lost: any of its levels may have gaps. */
  public static void forget(Connection connection) throws SQLException {
    for (Level level : Level.values()) {
      set(connection, level, Long.MAX_VALUE);
    }
  }

  private static void set(Connection connection, Level level, long until) throws SQLException {
    try (PreparedStatement upsert =
        connection.prepareStatement("insert or replace into setting(name, value) values(?, ?)")) {
      upsert.setString(1, name(level));
      upsert.setString(2, Long.toString(until));
      upsert.executeUpdate();
    }
  }
}
