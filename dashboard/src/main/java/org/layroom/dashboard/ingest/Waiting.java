package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.RoomName;

/** What was accepted and is not committed, in the order in which it came. Thread-safe, bounded. */
final class Waiting {
  private static final int MOST = 2000;
  private static final int MOST_KIB = 2048;

  private final Deque<Accepted> messages = new ArrayDeque<>();
  private int kib;

  /** False when there is no room for it. */
  synchronized boolean add(Accepted accepted) {
    if (messages.size() >= MOST || (kib > 0 && kib + accepted.kib() > MOST_KIB)) {
      return false;
    }
    messages.addLast(accepted);
    kib += accepted.kib();
    return true;
  }

  synchronized int size() {
    return messages.size();
  }

  /** The oldest ones. */
  synchronized List<Accepted> oldest(int most) {
    return messages.stream().limit(most).toList();
  }

  /** The oldest ones are done with. */
  synchronized void done(int count) {
    for (int i = 0; i < count; i++) {
      kib -= messages.removeFirst().kib();
    }
  }

  /** When the first of them is due. */
  synchronized Optional<Duration> dueAt() {
    return messages.stream().map(Accepted::dueAt).min(Comparator.naturalOrder());
  }

  synchronized boolean concerns(RoomName room, Instant from, Instant to) {
    return messages.stream().anyMatch(accepted -> accepted.concerns(room, from, to));
  }
}
