package org.layroom.dashboard.store.sqlite;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.files.FreeName;
import org.tinylog.Logger;

/**
 * Brings an older store up to date. The store as it was is kept beside it; then the tables are
 * changed in one transaction, in which every table must still have as many rows as before; then
 * hourly averages are made from minutes, in steps. A stop at any moment loses nothing: the next
 * start goes on, and does not make the copy again.
 */
final class StoreUpgrade {
  private final Connection writer;
  private final Path folder;
  private final Schema schema;
  private final UpgradeProgress progress;

  StoreUpgrade(Connection writer, Path folder, Schema schema, UpgradeProgress progress) {
    this.writer = writer;
    this.folder = folder;
    this.schema = schema;
    this.progress = progress;
  }

  /** Does what is left to do: nothing for a store that is up to date. */
  void run() throws SQLException {
    int version = schema.versionOf(writer);
    if (version == 0) {
      schema.bringUpToDate(writer, () -> {});
    } else if (version < schema.version()) {
      progress.at("copying the old one", 0, 1);
      Path copy = keep();
      Logger.info("A copy of the store before the upgrade: {}", copy);
      Map<String, Long> before = counts();
      schema.bringUpToDate(writer, () -> requireAsBefore(before));
      Logger.info(
          "The store was upgraded to version {}; rows as before: {}", schema.version(), before);
    }
    new HourCatchUp(writer, progress).run();
  }

  private void requireAsBefore(Map<String, Long> before) throws SQLException {
    progress.at("comparing", 0, 1);
    Map<String, Long> after = counts();
    after.keySet().retainAll(before.keySet());
    if (!after.equals(before)) {
      throw new StoreFailure(
          "The store was not upgraded: it had "
              + before
              + " rows and would have "
              + after
              + ". It is as it was; go on with the Layroom that wrote it.");
    }
  }

  /** An upgrade cannot be undone, so the store as it was is kept beside it. */
  private Path keep() throws SQLException {
    Path usual = folder.resolve("layroom-before-version-" + schema.version() + ".db");
    try {
      if (Files.exists(usual) && counts(usual).equals(counts())) {
        return usual;
      }
      Path part = folder.resolve(usual.getFileName() + ".part");
      Files.deleteIfExists(part);
      StoreSnapshot.into(writer, part);
      Path copy = FreeName.in(folder, "layroom-before-version-" + schema.version(), ".db");
      Files.move(part, copy);
      return copy;
    } catch (IOException e) {
      throw new StoreFailure(
          "The store cannot be copied before its upgrade: " + e + ". It was not changed.", e);
    }
  }

  private static Map<String, Long> counts(Path copy) {
    try (Connection connection = SqliteFile.look(copy)) {
      return counts(connection);
    } catch (SQLException e) {
      Logger.debug(e, "The earlier copy {} cannot be read", copy);
      return Map.of();
    }
  }

  private Map<String, Long> counts() throws SQLException {
    return counts(writer);
  }

  private static Map<String, Long> counts(Connection connection) throws SQLException {
    Map<String, Long> counts = new LinkedHashMap<>();
    for (String table : tables(connection)) {
      try (Statement statement = connection.createStatement();
          ResultSet row = statement.executeQuery("select count(*) from " + table)) {
        counts.put(table, row.getLong(1));
      }
    }
    return counts;
  }

  private static List<String> tables(Connection connection) throws SQLException {
    List<String> tables = new ArrayList<>();
    try (Statement statement = connection.createStatement();
        ResultSet row =
            statement.executeQuery(
                "select name from sqlite_master where type = 'table'"
                    + " and name not like 'sqlite_%' order by rootpage")) {
      while (row.next()) {
        tables.add(row.getString(1));
      }
    }
    return tables;
  }
}
