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
import org.tinylog.Logger;

/**
 * The SQLite file: one connection that writes (write-ahead log, every commit synced to the disk), a
 * few that only read, and a lock file so that two dashboards never share a data folder.
 */
final class Database implements AutoCloseable {
  /** The store's file in its folder. */
  static final String FILE = "layroom.db";

  private static final int READERS = 3;
  private static final int BUSY_MILLIS = 5000;
  private static final int WRITER_CACHE_KIB = 4096;
  private static final int READER_CACHE_KIB = 1024;

  private final Path file;
  private final FileChannel lockFile;
  private final Connection writer;
  private final ReentrantLock writing = new ReentrantLock();
  private final BlockingQueue<Connection> readers = new ArrayBlockingQueue<>(READERS);

  /** SQL that may fail. */
  interface Work<T extends @Nullable Object> {
    T with(Connection connection) throws SQLException;
  }

  private Database(Path file, FileChannel lockFile, Connection writer) {
    this.file = file;
    this.lockFile = lockFile;
    this.writer = writer;
  }

  /** Opens the store of a folder with the newest schema. */
  static Database open(Path folder) {
    return open(folder, Schema.NEWEST);
  }

  /** Opens the store of a folder, mended first where it is damaged. */
  static Database open(Path folder, Schema schema) {
    FileChannel lockFile = lock(folder);
    Path file = folder.resolve(FILE);
    try {
      new Mending(folder, schema).mendIfDamaged();
      Connection writer = connect(file, false, WRITER_CACHE_KIB);
      Database database = new Database(file, lockFile, writer);
      try {
        keepBeforeUpgrade(writer, folder, schema);
        schema.bringUpToDate(writer);
        for (int i = 0; i < READERS; i++) {
          database.readers.add(connect(file, true, READER_CACHE_KIB));
        }
        return database;
      } catch (SQLException | RuntimeException | Error e) {
        closeAfter(e, database);
        throw e;
      }
    } catch (SQLException e) {
      closeAfter(e, lockFile);
      throw failure("open " + file, e);
    } catch (RuntimeException | Error e) {
      closeAfter(e, lockFile);
      throw e;
    }
  }

  /** Closes what a failed start has opened, without hiding why it failed. */
  private static void closeAfter(Throwable cause, AutoCloseable opened) {
    try {
      opened.close();
    } catch (Exception e) {
      cause.addSuppressed(e);
    }
  }

  /** An upgrade cannot be undone, so the store as it was is kept beside it. */
  private static void keepBeforeUpgrade(Connection writer, Path folder, Schema schema)
      throws SQLException {
    int version = schema.versionOf(writer);
    if (version > 0 && version < schema.version()) {
      Path copy = FreeName.in(folder, "layroom-before-version-" + schema.version(), ".db");
      Snapshot.into(writer, copy);
      Logger.info("The store is brought to version {}; as it was: {}", schema.version(), copy);
    }
  }

  /** Moving of files. */
  interface Moving<T> {
    T now() throws IOException;
  }

  /** Does something with the files of a folder while no dashboard uses it. */
  static <T> T locked(Path folder, Moving<T> moving) {
    FileChannel lockFile = lock(folder);
    try {
      return moving.now();
    } catch (IOException e) {
      throw new StoreFailure("The data folder " + folder + " cannot be changed: " + e, e);
    } finally {
      release(lockFile);
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

  static Connection connect(Path file, boolean readOnly, int cacheKib) throws SQLException {
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

  /** A connection that leaves the file as it is, log mode and all. */
  static Connection look(Path file) throws SQLException {
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    config.setTempStore(SQLiteConfig.TempStore.MEMORY);
    return config.createConnection("jdbc:sqlite:" + file);
  }

  /** Runs work in one transaction: all of it is on the disk when this returns, or none of it. */
  <T extends @Nullable Object> T write(String what, Work<T> work) {
    writing.lock();
    try (Statement statement = writer.createStatement()) {
      statement.execute("begin immediate");
      try {
        T result = work.with(writer);
        statement.execute("commit");
        return result;
      } catch (SQLException | RuntimeException | Error e) {
        rollBack(statement, e);
        throw e;
      }
    } catch (SQLException e) {
      throw failure(what, e);
    } finally {
      writing.unlock();
    }
  }

  /**
   * Ends a failed transaction without hiding why it failed. After some errors, a full disk among
   * them, SQLite has rolled back by itself, and a second rollback is an error of its own.
   */
  private static void rollBack(Statement statement, Throwable cause) {
    try {
      statement.execute("rollback");
    } catch (SQLException e) {
      cause.addSuppressed(e);
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

  /** Copies the store for another machine, on a connection of its own: no write is held up. */
  void copyTo(Path copy) {
    try (Connection connection = connect(file, false, READER_CACHE_KIB)) {
      Snapshot.into(connection, copy);
      Snapshot.withoutWhatIsThisMachinesAlone(copy);
    } catch (SQLException e) {
      throw failure("copy the store", e);
    }
  }

  static StoreFailure failure(String what, SQLException e) {
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
                  + ": the disk is full. Free some space on the disk of the data folder; what was"
                  + " stored before is safe.",
              e);
        }
        case SQLITE_NOTADB, SQLITE_CORRUPT -> {
          return new StoreFailure(
              "Cannot "
                  + what
                  + ": layroom.db in the data folder is damaged. Start Layroom again: at its start"
                  + " it sets a damaged store aside and keeps what is whole of it.",
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
      release(lockFile);
    }
  }

  private static void release(FileChannel channel) {
    try {
      channel.close();
    } catch (IOException e) {
      throw new StoreFailure("Cannot release the lock on the data folder", e);
    }
  }
}
