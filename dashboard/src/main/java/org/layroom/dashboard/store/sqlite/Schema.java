package org.layroom.dashboard.store.sqlite;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.layroom.dashboard.store.StoreFailure;

/**
 * The tables, version by version. A version that has been released is never edited: a change is a
 * new migration at the end of the list.
 */
public final class Schema {
  /** "LAYR": tells this file from any other SQLite file. */
  private static final int APPLICATION_ID = 0x4C415952;

  private static final String FIRST =
      """
      create table device(
        id integer primary key, room text not null, name text not null,
        status text, status_since integer, status_received integer, unique(room, name));
      create table outbox(
        id integer primary key, device integer not null references device, name text not null,
        unique(device, name));
      create table outbox_range(
        outbox integer not null references outbox, first integer not null, last integer not null,
        primary key(outbox, first)) without rowid;
      create table reading(
        id integer primary key, device integer not null references device,
        time integer not null, original integer not null, received integer not null,
        outbox integer references outbox, sequence integer,
        temperature real, humidity real, mold_temperature real, resin_temperature real,
        pressure real, voc_raw real, voc_level real, styrene_estimate real, extra text);
      create index reading_time on reading(device, time);
      create unique index reading_position on reading(outbox, sequence) where outbox is not null;
      create unique index reading_plain on reading(device, original) where outbox is null;
      create table rejected(
        id integer primary key, device integer not null references device,
        original integer not null, received integer not null, outbox integer, sequence integer,
        name text not null, unit text not null, value real, reason text not null);
      create unique index rejected_once
        on rejected(device, original, name, coalesce(outbox, 0), coalesce(sequence, 0));
      create table series(id integer primary key, name text not null unique);
      create table latest(
        device integer not null references device, series integer not null references series,
        time integer not null, received integer not null, value real, unit text not null,
        text text, quality text, primary key(device, series)) without rowid;
      create table minute(
        device integer not null references device, series integer not null references series,
        minute integer not null, n integer not null, sum real not null, min real not null,
        max real not null, primary key(device, series, minute)) without rowid;
      create table source(
        room text not null, series text not null, device text not null,
        primary key(room, series)) without rowid;
      create table event(
        position integer primary key, stream text not null, id text not null,
        time integer not null, body text not null, unique(stream, id));
      create table setting(name text primary key, value text not null) without rowid;
      """;

  /**
   * The bounds of {@code hour} (1970 and the year 2540) refuse rows of other tables, which salvage
   * may meet where the place of this one is unknown: all others hold minutes or milliseconds there.
   */
  private static final String HOURS =
      """
      create table hour(
        device integer not null references device, series integer not null references series,
        hour integer not null check(hour between 0 and 5000000), n integer not null,
        sum real not null, min real not null, max real not null,
        primary key(device, series, hour)) without rowid;
      """;

  /** What this program writes. */
  public static final Schema NEWEST = new Schema(List.of(FIRST, HOURS));

  private final List<String> migrations;

  /** A schema that has come so far; others than {@link #NEWEST} are for tests. */
  public Schema(List<String> migrations) {
    this.migrations = List.copyOf(migrations);
  }

  /** The migrations so far. */
  public List<String> migrations() {
    return migrations;
  }

  /** The version that {@link #bringUpToDate} leaves behind. */
  public int version() {
    return migrations.size();
  }

  /**
   * The version of an opened file; 0 for an empty one.
   *
   * @throws StoreFailure when the file is another program's or a newer Layroom's
   */
  public int versionOf(Connection connection) throws SQLException {
    int version = pragma(connection, "user_version");
    int application = pragma(connection, "application_id");
    if (application != APPLICATION_ID && !(application == 0 && version == 0 && empty(connection))) {
      throw new StoreFailure(
          "The file layroom.db in the data folder is not a Layroom store. Set \"data\" to"
              + " another folder, or move that file away.");
    }
    if (version > migrations.size()) {
      throw new StoreFailure(
          "The store was written by a newer Layroom (its version is "
              + version
              + ", this program knows "
              + migrations.size()
              + "). Install that newer Layroom again, or set \"data\" to another folder.");
    }
    return version;
  }

  /**
   * What a file holds besides, or instead of, the tables of its version: a trigger, a view, a table
   * of another form. Empty when all is as this program makes it.
   */
  public Optional<String> foreign(Connection connection) throws SQLException {
    int version = versionOf(connection);
    try (Connection own = DriverManager.getConnection("jdbc:sqlite::memory:")) {
      new Schema(migrations.subList(0, version)).bringUpToDate(own);
      Map<String, String> expected = objects(own);
      Map<String, String> found = objects(connection);
      for (String name : found.keySet()) {
        if (!found.get(name).equals(expected.get(name))) {
          return Optional.of(name + " is not of Layroom's making");
        }
      }
      expected.keySet().removeAll(found.keySet());
      return expected.keySet().stream().findFirst().map(name -> name + " is missing");
    }
  }

  /** Every table, index, trigger and view by kind and name, as it was made. */
  private static Map<String, String> objects(Connection connection) throws SQLException {
    Map<String, String> objects = new TreeMap<>();
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "select type, name, coalesce(sql, '') from sqlite_master"
                    + " where name not like 'sqlite\\_%' escape '\\'")) {
      while (row.next()) {
        objects.put(
            row.getString(1) + " " + row.getString(2),
            row.getString(3).replaceAll("\\s+", " ").strip());
      }
    }
    return objects;
  }

  /** What must hold before an upgrade is committed. */
  interface Check {
    void passes() throws SQLException;
  }

  /** Brings an opened file to the newest version, in one transaction. */
  public void bringUpToDate(Connection connection) throws SQLException {
    bringUpToDate(connection, () -> {});
  }

  /** Brings an opened file to the newest version, in one transaction that a check may end. */
  void bringUpToDate(Connection connection, Check check) throws SQLException {
    int version = versionOf(connection);
    if (version == migrations.size()) {
      return;
    }
    try (Statement statement = connection.createStatement()) {
      statement.execute("begin immediate");
      try {
        for (String migration : migrations.subList(version, migrations.size())) {
          for (String sql : migration.split(";", -1)) {
            if (!sql.isBlank()) {
              statement.execute(sql);
            }
          }
        }
        check.passes();
        statement.execute("pragma application_id = " + APPLICATION_ID);
        statement.execute("pragma user_version = " + migrations.size());
        statement.execute("commit");
      } catch (SQLException | RuntimeException | Error e) {
        rollBack(statement, e);
        throw e;
      }
    }
  }

  private static void rollBack(Statement statement, Throwable cause) {
    try {
      statement.execute("rollback");
    } catch (SQLException e) {
      cause.addSuppressed(e);
    }
  }

  private static boolean empty(Connection connection) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery("select count(*) from sqlite_master")) {
      return rows.getInt(1) == 0;
    }
  }

  private static int pragma(Connection connection, String name) throws SQLException {
    try (Statement statement = connection.createStatement();
        ResultSet row = statement.executeQuery("pragma " + name)) {
      return row.getInt(1);
    }
  }
}
