package org.layroom.dashboard.store;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The dashboard's memory in a data folder. Safe for any number of threads; one of them at a time
 * writes, and no write holds up a query.
 */
public final class Store implements AutoCloseable {
  /** How long raw readings are kept. */
  public static final Duration RAW_KEPT = Duration.ofDays(400);

  private final Database database;
  private final History history;
  private final Sources sources;
  private final Archive archive;
  private final EventLog events;
  private final Optional<Mended> mended;
  private @Nullable BatchWriter writer;

  private Store(Database database) {
    this.database = database;
    this.history = new History(database);
    this.sources = new Sources(database);
    this.archive = new Archive(database);
    this.events = new EventLog(database);
    this.mended = Mending.read(events.setting(Mending.SETTING));
  }

  /**
   * Opens the store of a data folder; makes folder and file when missing, and brings an older store
   * up to date.
   *
   * <p>The whole store is looked through first (about 2 s for 400 days of one device's readings on
   * a desktop, longer on a small board). A damaged one is set aside and rebuilt from what is whole:
   * see {@link #mended()}.
   *
   * @throws StoreFailure when another dashboard uses the folder, the store is from a newer version,
   *     locked or not writable, or nothing in it can be read; says what to do
   */
  public static Store open(Path folder) {
    return new Store(Database.open(folder));
  }

  /**
   * Commits a batch in one transaction: when this returns, all of it is on the disk. Entries that
   * were there before change nothing.
   *
   * @throws StoreFailure when nothing of it was committed
   */
  public Appended append(List<StoreEntry> entries) {
    return database.write(
        "store readings",
        connection -> {
          BatchWriter batches = writer == null ? new BatchWriter(connection) : writer;
          writer = batches;
          boolean done = false;
          try {
            Appended appended = batches.append(entries);
            done = true;
            return appended;
          } finally {
            if (!done) {
              batches.forget();
            }
          }
        });
  }

  /** The stored mark of every outbox ever seen. */
  public List<OutboxMark> marks() {
    return database.read("read stored marks", OutboxRanges::allMarks);
  }

  public History history() {
    return history;
  }

  public Sources sources() {
    return sources;
  }

  public Archive archive() {
    return archive;
  }

  public EventLog events() {
    return events;
  }

  /** What became of the store when it was last found damaged and rebuilt, if it ever was. */
  public Optional<Mended> mended() {
    return mended;
  }

  /**
   * Writes a consistent copy for another machine, while the store is in use: one file, without
   * private settings (see {@link EventLog#PRIVATE}).
   *
   * @param copy a file that is not there yet
   */
  public void copyTo(Path copy) {
    database.copyTo(copy);
  }

  /**
   * Makes a checked copy, on the same disk, the store of a folder that no dashboard uses.
   *
   * @param replace whether a store that is there may be set aside
   * @return the store that was there, under its new name
   * @throws StoreFailure when a dashboard uses the folder, or holds a store and may not be replaced
   */
  public static Optional<Path> putInPlace(Path folder, Path copy, boolean replace) {
    return Database.locked(folder, () -> Replacement.putInPlace(folder, copy, replace));
  }

  /**
   * Looks at a copy without changing a byte of it.
   *
   * @return its schema version
   * @throws StoreFailure when it is damaged, not a store, or from a newer Layroom
   */
  public static int check(Path copy) {
    try (Connection connection = Database.look(copy)) {
      int version = Schema.NEWEST.versionOf(connection);
      Optional<String> fault = Integrity.fault(connection);
      if (version == 0 || fault.isPresent()) {
        throw new StoreFailure("The copy of the store is damaged: " + fault.orElse("it is empty"));
      }
      return version;
    } catch (SQLException e) {
      throw Database.failure("read " + copy, e);
    }
  }

  @Override
  public void close() {
    database.close();
  }
}
