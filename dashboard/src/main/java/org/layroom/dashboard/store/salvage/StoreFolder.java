package org.layroom.dashboard.store.salvage;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.Optional;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.sqlite.FolderLock;
import org.layroom.dashboard.store.sqlite.Schema;
import org.layroom.dashboard.store.sqlite.SqliteFile;
import org.layroom.dashboard.store.sqlite.SqliteStore;
import org.layroom.dashboard.store.sqlite.UpgradeProgress;

/** The store of a data folder: opened, mended first where it is damaged, or replaced by a copy. */
public final class StoreFolder {
  private StoreFolder() {}

  /**
   * Opens the store of a data folder; makes folder and file when missing, and brings an older store
   * up to date.
   *
   * <p>The whole store is looked through first (about 2 s for 400 days of one device's readings on
   * a desktop, longer on a small board). A damaged one is set aside and rebuilt from what is whole:
   * see {@link Store#mended()}.
   *
   * @throws StoreFailure when another dashboard uses the folder, the store is from a newer version,
   *     locked or not writable, or nothing in it can be read; says what to do
   */
  public static Store open(Path folder) {
    return open(folder, Schema.NEWEST, UpgradeProgress.toLog());
  }

  /** Opens the store of a folder with a schema; others than the newest are for tests. */
  static Store open(Path folder, Schema schema, UpgradeProgress progress) {
    FolderLock lock = FolderLock.take(folder);
    try {
      new StoreRepair(folder, schema).mendIfDamaged();
    } catch (SQLException e) {
      closeAfter(e, lock);
      throw SqliteFile.failure("open " + folder.resolve(SqliteFile.NAME), e);
    } catch (RuntimeException | Error e) {
      closeAfter(e, lock);
      throw e;
    }
    return SqliteStore.open(lock, schema, progress);
  }

  /** Releases the lock after a failed start, without hiding why it failed. */
  private static void closeAfter(Throwable cause, FolderLock lock) {
    try {
      lock.close();
    } catch (StoreFailure e) {
      cause.addSuppressed(e);
    }
  }

  /**
   * Makes a checked copy, on the same disk, the store of a folder that no dashboard uses.
   *
   * @param replace whether a store that is there may be set aside
   * @return the store that was there, under its new name
   * @throws StoreFailure when a dashboard uses the folder, or holds a store and may not be replaced
   */
  public static Optional<Path> putInPlace(Path folder, Path copy, boolean replace) {
    try (FolderLock lock = FolderLock.take(folder)) {
      return StoreReplacement.putInPlace(lock.folder(), copy, replace);
    } catch (IOException e) {
      throw new StoreFailure("The data folder " + folder + " cannot be changed: " + e, e);
    }
  }

  /**
   * Looks at a copy without changing a byte of it.
   *
   * @return its schema version
   * @throws StoreFailure when it is damaged, not a store, from a newer Layroom, or has tables,
   *     triggers or views that Layroom did not make
   */
  public static int check(Path copy) {
    try (Connection connection = SqliteFile.look(copy)) {
      int version = Schema.NEWEST.versionOf(connection);
      Optional<String> fault = Integrity.fault(connection);
      if (version == 0 || fault.isPresent()) {
        throw new StoreFailure("The copy of the store is damaged: " + fault.orElse("it is empty"));
      }
      Optional<String> foreign = Schema.NEWEST.foreign(connection);
      if (foreign.isPresent()) {
        throw new StoreFailure("The copy of the store cannot be used: " + foreign.get());
      }
      return version;
    } catch (SQLException e) {
      throw SqliteFile.failure("read " + copy, e);
    }
  }
}
