package org.layroom.dashboard.ingest;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
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

/** A store whose commits are counted, and whose disk can be full. */
final class WatchedStore implements Store {
  private final Store store;
  private boolean full;
  private int commits;

  WatchedStore(Store store) {
    this.store = store;
  }

  int commits() {
    return commits;
  }

  void full(boolean now) {
    full = now;
  }

  @Override
  public AppendResult append(List<StoreEntry> entries) {
    if (full) {
      throw new StoreFailure("The disk is full.", new IllegalStateException("full"));
    }
    commits++;
    return store.append(entries);
  }

  @Override
  public List<OutboxMark> marks() {
    return store.marks();
  }

  @Override
  public List<StoredRange> ranges() {
    return store.ranges();
  }

  @Override
  public History history() {
    return store.history();
  }

  @Override
  public Sources sources() {
    return store.sources();
  }

  @Override
  public Archive archive() {
    return store.archive();
  }

  @Override
  public EventLog events() {
    return store.events();
  }

  @Override
  public Optional<RepairReport> mended() {
    return store.mended();
  }

  @Override
  public void copyTo(Path copy) {
    store.copyTo(copy);
  }

  @Override
  public void close() {
    store.close();
  }
}
