package org.layroom.dashboard.store;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * The dashboard's memory. Safe for any number of threads; one of them at a time writes, and no
 * write holds up a query.
 */
public interface Store extends AutoCloseable {
  /**
   * Commits a batch in one transaction: when this returns, all of it is on the disk. Entries that
   * were there before change nothing.
   *
   * @throws StoreFailure when nothing of it was committed
   */
  AppendResult append(List<StoreEntry> entries);

  /** The stored mark of every outbox ever seen. */
  List<OutboxMark> marks();

  /** Every sequence number that is stored, of every outbox ever seen. */
  List<StoredRange> ranges();

  /** What is asked of one series. */
  History history();

  /** What is asked of rooms and devices. */
  Sources sources();

  /** Whole rows as they are kept. */
  Archive archive();

  /** Events and settings. */
  EventLog events();

  /** What became of the store when it was last found damaged and rebuilt, if it ever was. */
  Optional<RepairReport> mended();

  /**
   * Writes a consistent copy for another machine, while the store is in use: one file, without
   * private settings (see {@link EventLog#PRIVATE}).
   *
   * @param copy a file that is not there yet
   */
  void copyTo(Path copy);

  @Override
  void close();
}
