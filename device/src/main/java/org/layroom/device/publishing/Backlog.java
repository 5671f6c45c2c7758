package org.layroom.device.publishing;

import java.io.IOException;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import java.util.TreeSet;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxSample;

/**
 * Which sample of the outbox is sent next. A run begins above the mark with each connection and
 * after a time without progress, goes oldest first, and leaves out what was sent ahead of its turn.
 * For one thread.
 */
final class Backlog {
  private static final int PAGE = 500;

  /**
   * How far a run goes ahead of the mark: what a broker may have to hold for a dashboard that is
   * slow or away (mosquitto drops beyond 1000).
   */
  static final long WINDOW = 900;

  private final Outbox outbox;
  private final Deque<OutboxSample> page = new ArrayDeque<>();
  private final TreeSet<Long> ahead = new TreeSet<>();
  private long cursor = 1;

  Backlog(Outbox outbox) {
    this.outbox = outbox;
  }

  /** Begins again above the mark. */
  void restart() {
    page.clear();
    ahead.clear();
    cursor = outbox.mark() + 1;
  }

  /** The mark has moved. */
  void progressed() {
    cursor = Math.max(cursor, outbox.mark() + 1);
    ahead.headSet(cursor).clear();
  }

  /** Whether a sample was sent in this run. */
  boolean sent(long sequence) {
    return sequence < cursor || ahead.contains(sequence);
  }

  /** A sample was sent ahead of its turn. */
  void sentAhead(long sequence) {
    if (sequence >= cursor) {
      ahead.add(sequence);
    }
    while (ahead.remove(cursor)) {
      cursor++;
    }
  }

  /** The next sample of this run; empty when all was sent, or enough until the mark moves. */
  Optional<OutboxSample> next() throws IOException {
    while (cursor <= Math.min(outbox.mark() + WINDOW, outbox.last())) {
      if (page.isEmpty()) {
        page.addAll(outbox.read(cursor, PAGE));
        if (page.isEmpty()) {
          return Optional.empty();
        }
      }
      OutboxSample sample = page.remove();
      if (sample.sequence() >= cursor) {
        cursor = sample.sequence() + 1;
        if (!ahead.remove(sample.sequence())) {
          return Optional.of(sample);
        }
      }
    }
    return Optional.empty();
  }
}
