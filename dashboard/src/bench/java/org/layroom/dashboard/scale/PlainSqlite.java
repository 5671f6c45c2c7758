package org.layroom.dashboard.scale;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;

/** SQLite without a store around it: what the same rows and the same question cost there. */
final class PlainSqlite {
  /** The tables of readings, by what holds a device's name to what is made from it. */
  private static final List<String> TABLES =
      List.of("device", "outbox", "series", "reading", "minute", "hour", "latest", "outbox_range");

  private PlainSqlite() {}

  private record Table(String name, int columns, List<Object[]> rows) {}

  /**
   * Writes every row of a store once into an empty file of the same tables and indexes, by prepared
   * inserts, in as many commits, each synced. The rows are in memory before the clock starts.
   *
   * @return nanoseconds
   */
  static long write(Path store, Path copy, int commits) throws SQLException {
    List<Table> tables = new ArrayList<>();
    try (Connection from = SqliteFile.connect(store, true, 4096)) {
      for (String table : TABLES) {
        tables.add(rows(from, table));
      }
    }
    try (Connection into = SqliteFile.connect(copy, false, 4096)) {
      Schema.NEWEST.bringUpToDate(into);
      long begun = System.nanoTime();
      for (int commit = 0; commit < commits; commit++) {
        write(into, tables, commit, commits);
      }
      return System.nanoTime() - begun;
    }
  }

  private static Table rows(Connection from, String table) throws SQLException {
    try (Statement statement = from.createStatement();
        ResultSet row = statement.executeQuery("select * from " + table)) {
      int columns = row.getMetaData().getColumnCount();
      List<Object[]> rows = new ArrayList<>();
      while (row.next()) {
        Object[] values = new Object[columns];
        for (int i = 0; i < columns; i++) {
          values[i] = row.getObject(i + 1);
        }
        rows.add(values);
      }
      return new Table(table, columns, rows);
    }
  }

  private static void write(Connection into, List<Table> tables, int commit, int commits)
      throws SQLException {
    try (Statement statement = into.createStatement()) {
      statement.execute("begin immediate");
      for (Table table : tables) {
        int from = share(table, commit, commits);
        int to = share(table, commit + 1, commits);
        if (from < to) {
          insert(into, table, from, to);
        }
      }
      statement.execute("commit");
    }
  }

  /** Rows before a commit, rounded up: a table of one row is written first. */
  private static int share(Table table, int commit, int commits) {
    return (int) (((long) table.rows().size() * commit + commits - 1) / commits);
  }

  private static void insert(Connection into, Table table, int from, int to) throws SQLException {
    String places = "?" + ", ?".repeat(table.columns() - 1);
    try (PreparedStatement insert =
        into.prepareStatement("insert into " + table.name() + " values(" + places + ")")) {
      for (Object[] values : table.rows().subList(from, to)) {
        for (int i = 0; i < values.length; i++) {
          insert.setObject(i + 1, values[i]);
        }
        insert.executeUpdate();
      }
    }
  }

  /**
   * A strip by looking at every raw row, as it would be drawn without roll-ups.
   *
   * @return how many buckets came
   */
  static int scan(Connection connection, long from, long to, int points) throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement(
            "select (time - ?1) / ?2 as bucket, min(temperature), avg(temperature),"
                + " max(temperature), count(temperature) from reading where device = 1"
                + " and time >= ?1 and time < ?3 group by bucket order by bucket")) {
      query.setLong(1, from);
      query.setLong(2, (to - from) / points);
      query.setLong(3, to);
      int buckets = 0;
      try (ResultSet row = query.executeQuery()) {
        while (row.next()) {
          buckets++;
        }
      }
      return buckets;
    }
  }

  /** Bytes on the disk of a table and its indexes. */
  static long bytes(Connection connection, String table) throws SQLException {
    try (PreparedStatement query =
        connection.prepareStatement(
            "select sum(pgsize) from dbstat where aggregate = true and name in (select name from"
                + " sqlite_master where tbl_name = ?)")) {
      query.setString(1, table);
      try (ResultSet row = query.executeQuery()) {
        return row.getLong(1);
      }
    }
  }
}
