package org.layroom.dashboard.store.sqlite;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.store.AppendResult;
import org.layroom.dashboard.store.Archive;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.RepairReport;
import org.layroom.dashboard.store.Sources;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.StoredRange;

/** The store in one SQLite file of a data folder. */
public final class SqliteStore implements Store {
  private final Database database;
  private final History history;
  private final Sources sources;
  private final Archive archive;
  private final EventLog events;
  private final Optional<RepairReport> mended;
  private @Nullable BatchWriter writer;

  private SqliteStore(Database database) {
    this.database = database;
    this.history = new SqliteHistory(database);
    this.sources = new SqliteSources(database);
    this.archive = new SqliteArchive(database);
    this.events = new SqliteEvents(database);
    this.mended = RepairSetting.read(events);
  }

  /**
   * Opens the store of a folder; makes the file when missing, and brings an older one up to date.
   *
   * @param lock of the folder, held until the store is closed
   * @param schema what the file is brought to
   * @throws StoreFailure when the store is from a newer version, locked or not writable
   */
  public static SqliteStore open(FolderLock lock, Schema schema) {
    return open(lock, schema, UpgradeProgress.toLog());
  }

  /** Opens the store of a folder, and tells how far an upgrade has come. */
  public static SqliteStore open(FolderLock lock, Schema schema, UpgradeProgress progress) {
    return new SqliteStore(Database.open(lock, schema, progress));
  }

  @Override
  public AppendResult append(List<StoreEntry> entries) {
    return database.write(
        "store readings",
        connection -> {
          BatchWriter batches = writer == null ? new BatchWriter(connection) : writer;
          writer = batches;
          boolean done = false;
          try {
            AppendResult appended = batches.append(entries);
            done = true;
            return appended;
          } finally {
            if (!done) {
              batches.forget();
            }
          }
        });
  }

  @Override
  public List<OutboxMark> marks() {
    return database.read("read stored marks", OutboxRanges::allMarks);
  }

  @Override
  public List<StoredRange> ranges() {
    return database.read("read stored ranges", OutboxRanges::allRanges);
  }

  @Override
  public History history() {
    return history;
  }

  @Override
  public Sources sources() {
    return sources;
  }

  @Override
  public Archive archive() {
    return archive;
  }

  @Override
  public EventLog events() {
    return events;
  }

  @Override
  public Optional<RepairReport> mended() {
    return mended;
  }

  @Override
  public void copyTo(Path copy) {
    database.copyTo(copy);
  }

  @Override
  public void close() {
    database.close();
  }
}
