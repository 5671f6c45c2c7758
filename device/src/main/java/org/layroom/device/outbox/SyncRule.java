package org.layroom.device.outbox;

import java.time.Duration;
import java.util.Optional;

/**
 * Which append waits for the disk. Where one a minute does, that is the last one that still keeps
 * the oldest waiting sample from getting older than a minute, and one of {@value #MOST_UNSYNCED}
 * whatever the clock says: so a power cut takes no more numbers than that. For one thread.
 */
final class SyncRule {
  /** The most numbers that are given and may be gone after a power cut. */
  static final int MOST_UNSYNCED = 32;

  private static final Duration LONGEST = Duration.ofMinutes(1);

  private final OutboxOptions.Sync sync;
  private Optional<Duration> syncedAt = Optional.empty();
  private Duration newest = Duration.ZERO;
  private int unsynced;

  SyncRule(OutboxOptions.Sync sync) {
    this.sync = sync;
  }

  /**
   * Whether the append of a sample has to wait for the disk.
   *
   * @param uptime when the sample was measured, on the device's running clock
   */
  boolean isDue(Duration uptime) {
    return switch (sync) {
      case EACH -> true;
      case NEVER -> false;
      case EACH_MINUTE ->
          unsynced + 1 >= MOST_UNSYNCED || syncedAt.isEmpty() || isOld(syncedAt.get(), uptime);
    };
  }

  private boolean isOld(Duration synced, Duration uptime) {
    Duration next = uptime.minus(newest);
    return next.isNegative() || uptime.plus(next).minus(synced).compareTo(LONGEST) > 0;
  }

  /** A sample was appended. */
  void appended(Duration uptime, boolean waited) {
    newest = uptime;
    unsynced++;
    if (waited) {
      syncedAt = Optional.of(uptime);
      allSynced();
    }
  }

  /** The disk has everything that was appended. */
  void allSynced() {
    unsynced = 0;
  }
}
