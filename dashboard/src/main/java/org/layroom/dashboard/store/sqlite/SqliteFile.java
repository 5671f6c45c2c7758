package org.layroom.dashboard.store.sqlite;

import java.io.File;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import org.layroom.dashboard.store.StoreFailure;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/** Connections to the SQLite file of a store, and what its errors mean to a person. */
public final class SqliteFile {
  /** The store's file in its folder. */
  public static final String NAME = "layroom.db";

  private static final int BUSY_MILLIS = 5000;

  private SqliteFile() {}

  /** A connection that syncs every commit to the disk. */
  public static Connection connect(Path file, boolean readOnly, int cacheKib) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setJournalMode(SQLiteConfig.JournalMode.WAL);
    config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
    config.enforceForeignKeys(true);
    config.setBusyTimeout(BUSY_MILLIS);
    config.setCacheSize(-cacheKib);
    config.setTempStore(SQLiteConfig.TempStore.MEMORY);
    Connection connection = config.createConnection("jdbc:sqlite:" + within(file));
    if (readOnly) {
      try (Statement statement = connection.createStatement()) {
        statement.execute("pragma query_only = 1");
      }
    }
    return connection;
  }

  /**
   * The file, for this program alone: SQLite then keeps the index of its log in memory, where it
   * else writes several pages of a file beside it for each commit. Nobody else may read the store
   * while it is open, and its folder is locked anyway. Windows knows no such way.
   */
  private static String within(Path file) {
    return File.separatorChar == '/'
        ? file.toAbsolutePath().toUri().getRawPath().transform("file:%s?vfs=unix-excl"::formatted)
        : file.toString();
  }

  /** A connection that leaves the file as it is, log mode and all. */
  public static Connection look(Path file) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    config.setTempStore(SQLiteConfig.TempStore.MEMORY);
    return config.createConnection("jdbc:sqlite:" + file);
  }

  /** What went wrong, and what to do about it. */
  public static StoreFailure failure(String what, SQLException e) {
    if (e instanceof SQLiteException sqlite) {
      SQLiteErrorCode code = sqlite.getResultCode();
      switch (code) {
        case SQLITE_BUSY, SQLITE_LOCKED, SQLITE_BUSY_SNAPSHOT, SQLITE_BUSY_RECOVERY -> {
          return new StoreFailure(
              "Cannot "
                  + what
                  + ": another program holds layroom.db in the data folder. Close it (a database"
                  + " browser, a backup) and try again.",
              e);
        }
        case SQLITE_FULL -> {
          return new StoreFailure(
              "Cannot "
                  + what
                  + ": the disk is full. Free some space on the disk of the data folder."
                  + " Earlier data are safe.",
              e);
        }
        case SQLITE_NOTADB, SQLITE_CORRUPT -> {
          return new StoreFailure(
              "Cannot "
                  + what
                  + ": layroom.db in the data folder is damaged. Restart Layroom: at startup it"
                  + " moves a damaged store aside and recovers what is readable.",
              e);
        }
        default -> {}
      }
    }
    return new StoreFailure("Cannot " + what + ": " + e.getMessage(), e);
  }
}
