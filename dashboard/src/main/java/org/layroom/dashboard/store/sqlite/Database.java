package org.layroom.dashboard.store.sqlite;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.locks.ReentrantLock;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.store.StoreFailure;

/**
 * The open SQLite file: one connection that writes (write-ahead log, every commit synced to the
 * disk), and a few that only read.
 */
final class Database implements AutoCloseable {
  private static final int READERS = 3;
  private static final int WRITER_CACHE_KIB = 4096;
  private static final int READER_CACHE_KIB = 1024;

  private final Path file;
  private final FolderLock lock;
  private final Connection writer;
  private final ReentrantLock writing = new ReentrantLock();
  private final BlockingQueue<Connection> readers = new ArrayBlockingQueue<>(READERS);

  /** SQL that may fail. */
  interface Work<T extends @Nullable Object> {
    T with(Connection connection) throws SQLException;
  }

  private Database(Path file, FolderLock lock, Connection writer) {
    this.file = file;
    this.lock = lock;
    this.writer = writer;
  }

  /** Opens the store of a locked folder; the lock is released when it is closed, or cannot be. */
  static Database open(FolderLock lock, Schema schema, UpgradeProgress progress) {
    Path file = lock.folder().resolve(SqliteFile.NAME);
    try {
      Connection writer = SqliteFile.connect(file, false, WRITER_CACHE_KIB);
      Database database = new Database(file, lock, writer);
      try {
        new StoreUpgrade(writer, lock.folder(), schema, progress).run();
        for (int i = 0; i < READERS; i++) {
          database.readers.add(SqliteFile.connect(file, true, READER_CACHE_KIB));
        }
        return database;
      } catch (SQLException | RuntimeException | Error e) {
        closeAfter(e, database);
        throw e;
      }
    } catch (SQLException e) {
      closeAfter(e, lock);
      throw SqliteFile.failure("open " + file, e);
    } catch (RuntimeException | Error e) {
      closeAfter(e, lock);
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
      throw SqliteFile.failure(what, e);
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
      throw SqliteFile.failure(what, e);
    } finally {
      readers.add(reader);
    }
  }

  /** Copies the store for another machine, on a connection of its own: no write is held up. */
  void copyTo(Path copy) {
    try (Connection connection = SqliteFile.connect(file, false, READER_CACHE_KIB)) {
      StoreSnapshot.into(connection, copy);
      StoreSnapshot.withoutWhatIsThisMachinesAlone(copy);
    } catch (SQLException e) {
      throw SqliteFile.failure("copy the store", e);
    }
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
      throw SqliteFile.failure("close the store", e);
    } finally {
      writing.unlock();
      lock.close();
    }
  }
}
