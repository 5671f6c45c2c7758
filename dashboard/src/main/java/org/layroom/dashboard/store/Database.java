package org.layroom.dashboard.store;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;
import org.sqlite.SQLiteException;

/**
 * The SQLite file: one connection that writes (write-ahead log, every commit synced to the disk), a
 * few that only read, and a lock file so that two dashboards never share a data folder.
 */
final class Database implements AutoCloseable {
  private static final int READERS = 3;
  private static final int BUSY_MILLIS = 5000;
  private static final int WRITER_CACHE_KIB = 4096;
  private static final int READER_CACHE_KIB = 1024;

  private final FileChannel lockFile;
  private final Connection writer;
  private final ReentrantLock writing = new ReentrantLock();
  private final BlockingQueue<Connection> readers = new ArrayBlockingQueue<>(READERS);

  /** SQL that may fail. */
  interface Work<T extends @Nullable Object> {
    T with(Connection connection) throws SQLException;
  }

  private Database(FileChannel lockFile, Connection writer) {
    this.lockFile = lockFile;
    this.writer = writer;
  }

  static Database open(Path folder) {
    FileChannel lockFile = lock(folder);
    Path file = folder.resolve("layroom.db");
    try {
      Connection writer = connect(file, false, WRITER_CACHE_KIB);
      Database database = new Database(lockFile, writer);
      try {
        Schema.bringUpToDate(writer);
        for (int i = 0; i < READERS; i++) {
          database.readers.add(connect(file, true, READER_CACHE_KIB));
        }
        return database;
      } catch (SQLException | RuntimeException e) {
        database.close();
        throw e;
      }
    } catch (SQLException e) {
      closeQuietly(lockFile);
      throw failure("open " + file, e);
    }
  }

  private static FileChannel lock(Path folder) {
    try {
      Files.createDirectories(folder);
      FileChannel channel =
          FileChannel.open(
              folder.resolve("layroom.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
      try {
        FileLock lock = channel.tryLock();
        if (lock != null) {
          return channel;
        }
      } catch (OverlappingFileLockException e) {
        channel.close();
        throw inUse(folder);
      }
      channel.close();
      throw inUse(folder);
    } catch (IOException e) {
      throw new StoreFailure(
          "The data folder "
              + folder
              + " cannot be used: "
              + e
              + ". Check that it exists and that this user may write there.",
          e);
    }
  }

  private static StoreFailure inUse(Path folder) {
    return new StoreFailure(
        "The data folder "
            + folder
            + " is in use by another running dashboard. Stop that one, or point \"data\" at another"
            + " folder.");
  }

  private static Connection connect(Path file, boolean readOnly, int cacheKib) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setJournalMode(SQLiteConfig.JournalMode.WAL);
    config.setSynchronous(SQLiteConfig.SynchronousMode.FULL);
    config.enforceForeignKeys(true);
    config.setBusyTimeout(BUSY_MILLIS);
    config.setCacheSize(-cacheKib);
    config.setTempStore(SQLiteConfig.TempStore.MEMORY);
    Connection connection = config.createConnection("jdbc:sqlite:" + file);
    if (readOnly) {
      try (Statement statement = connection.createStatement()) {
        statement.execute("pragma query_only = 1");
      }
    }
    return connection;
  }

  /** Runs work in one transaction: all of it is on the disk when this returns, or none of it. */
  <T extends @Nullable Object> T write(String what, Work<T> work) {
    writing.lock();
    try (Statement statement = writer.createStatement()) {
      statement.execute("begin immediate");
      boolean committed = false;
      try {
        T result = work.with(writer);
        statement.execute("commit");
        committed = true;
        return result;
      } finally {
        if (!committed) {
          statement.execute("rollback");
        }
      }
    } catch (SQLException e) {
      throw failure(what, e);
    } finally {
      writing.unlock();
    }
  }

  /** Runs a query on a connection that cannot write, on the caller's thread. */
  <T extends @Nullable Object> T read(String what, Work<T> work) {
    Connection reader;
    try {
      reader = readers.take();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new StoreFailure("Interrupted while waiting to " + what, e);
    }
    try {
      return work.with(reader);
    } catch (SQLException e) {
      throw failure(what, e);
    } finally {
      readers.add(reader);
    }
  }

  private static StoreFailure failure(String what, SQLException e) {
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
              "Cannot " + what + ": the disk is full. Free some space; nothing is lost.", e);
        }
        case SQLITE_NOTADB, SQLITE_CORRUPT -> {
          return new StoreFailure(
              "Cannot "
                  + what
                  + ": layroom.db in the data folder is damaged or not a store. Move it away and"
                  + " restore a backup.",
              e);
        }
        default -> {}
      }
    }
    return new StoreFailure("Cannot " + what + ": " + e.getMessage(), e);
  }

  @Override
  public void close() {
    writing.lock();
    try {
      for (int i = 0; i < READERS; i++) {
        Connection reader = readers.poll();
        if (reader != null) {
          reader.close();
        }
      }
      writer.close();
    } catch (SQLException e) {
      throw failure("close the store", e);
    } finally {
      writing.unlock();
      closeQuietly(lockFile);
    }
  }

  private static void closeQuietly(FileChannel channel) {
    try {
      channel.close();
    } catch (IOException e) {
      throw new StoreFailure("Cannot release the lock on the data folder", e);
    }
  }
}
