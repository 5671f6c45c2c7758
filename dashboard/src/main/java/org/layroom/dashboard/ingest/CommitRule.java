package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashSet;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceStatus;

/**
 * How long a message may wait for its commit. A quiet room is committed every two minutes, to spare
 * the card; a room that is not quiet gathers for a second. A device that does not say that it waits
 * long for its stored mark would send again after 30 s, so its readings wait no longer than 20 s. A
 * range of lost numbers may be all that keeps the mark from moving, and a device sends only so much
 * above its mark. What has no outbox waits for nothing: nobody else has it. For one thread.
 */
final class CommitRule {
  static final Duration QUIET = Duration.ofMinutes(2);
  static final Duration FIRST_VERSION = Duration.ofSeconds(20);
  static final Duration BUSY = Duration.ofSeconds(1);

  /** More readings in a minute than this are no quiet room. */
  static final int BUSY_READINGS = 100;

  private static final Duration RATE_OVER = Duration.ofMinutes(1);
  private static final Duration LONG_MARK_WAIT = Duration.ofSeconds(150);

  private final Set<Channel> patient = new HashSet<>();
  private final Deque<Duration> newest = new ArrayDeque<>();

  /** What a device has said of itself. One that is gone waits for no mark. */
  void said(Channel channel, DeviceStatus status) {
    if (status.online()) {
      Optional<Duration> wait = status.markWait();
      if (wait.isPresent() && wait.get().compareTo(LONG_MARK_WAIT) >= 0) {
        patient.add(channel);
      } else {
        patient.remove(channel);
      }
    }
  }

  /** How long one of the things that came in now may wait. */
  Duration patience(StoreEntry entry, Duration now) {
    if (waitsForCommit(entry)) {
      return Duration.ZERO;
    }
    if (entry instanceof StoreEntry.Lost || isBusy(now)) {
      return BUSY;
    }
    return patient.contains(entry.channel()) ? QUIET : FIRST_VERSION;
  }

  private boolean isBusy(Duration now) {
    newest.addLast(now);
    if (newest.size() <= BUSY_READINGS) {
      return false;
    }
    return now.minus(newest.removeFirst()).compareTo(RATE_OVER) < 0;
  }

  /** Whether the broker is told only after the commit: its message is all that there is. */
  static boolean waitsForCommit(StoreEntry entry) {
    if (entry instanceof StoreEntry.Sample sample) {
      return sample.position().isEmpty();
    }
    return entry instanceof StoreEntry.Status;
  }
}
