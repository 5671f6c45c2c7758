package org.layroom.dashboard.store;

import java.nio.file.Path;
import org.layroom.dashboard.store.salvage.StoreFolder;

/** The store in a SQLite file does what any store does. */
class SqliteStoreTest extends StoreContract {
  @Override
  Store open(Path folder) {
    return StoreFolder.open(folder);
  }
}
