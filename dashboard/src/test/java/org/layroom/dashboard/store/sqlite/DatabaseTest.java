package org.layroom.dashboard.store.sqlite;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.StoreFailure;

/** A transaction is on the disk whole, or not at all, and the first cause is told. */
class DatabaseTest {
  @TempDir Path folder;

  private Database open() {
    return Database.open(FolderLock.take(folder), Schema.NEWEST, UpgradeProgress.toLog());
  }

  private static void inTheStore(Connection connection, String sql) throws SQLException {
    try (Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  /**
   * SQLite answers SQLITE_FULL for a page above max_page_count as for a full disk, and has then
   * rolled back by itself (sqlite.org, "Response To Errors Within A Transaction").
   */
  @Test
  void aFullDiskIsSaidInPlainWordsAndTheStoreGoesOnOnceThereIsSpace() {
    try (Database database = open()) {
      database.write("make room", connection -> fill(connection, 1));
      StoreFailure refused =
          assertThrows(
              StoreFailure.class,
              () ->
                  database.write(
                      "store readings",
                      connection -> {
                        inTheStore(connection, "pragma max_page_count = 1");
                        return fill(connection, 1_000_000);
                      }));
      assertEquals(
          "Cannot store readings: the disk is full. Free some space on the disk of the data"
              + " folder. Earlier data are safe.",
          refused.getMessage());
      database.write(
          "go on",
          connection -> {
            inTheStore(connection, "pragma max_page_count = 1000000");
            return fill(connection, 1_000_000);
          });
    }
  }

  private static int fill(Connection connection, int bytes) throws SQLException {
    inTheStore(connection, "create table if not exists ballast(bytes blob)");
    inTheStore(connection, "insert into ballast values (zeroblob(" + bytes + "))");
    return bytes;
  }

  @Test
  void whateverFailsIsRolledBackAndTheFirstCauseIsTold() {
    try (Database database = open()) {
      IllegalStateException cause = new IllegalStateException("the work gave up");
      assertSame(
          cause,
          assertThrows(
              IllegalStateException.class,
              () ->
                  database.write(
                      "store readings",
                      connection -> {
                        fill(connection, 1);
                        inTheStore(connection, "rollback");
                        throw cause;
                      })));
      assertEquals(1, database.<Integer>write("go on", connection -> fill(connection, 1)));
    }
  }
}
