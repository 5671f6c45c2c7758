package org.layroom.device.publishing;

import java.time.Duration;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.StoredMark;
import org.tinylog.Logger;

/**
 * What is sent again because nobody says that it is stored: everything above the mark, or, while
 * all of it is refused, only the first. Times are real running time. For one thread, but for {@link
 * #saysRefused}.
 */
final class Resending {
  private final Channel channel;
  private final Outbox outbox;
  private final SendQueue queue;
  private final ResendPolicy patience;
  private volatile boolean refusalSaid;

  Resending(Channel channel, Outbox outbox, SendQueue queue, ResendPolicy patience) {
    this.channel = channel;
    this.outbox = outbox;
    this.queue = queue;
    this.patience = patience;
  }

  /** Whether what is sent is refused somewhere on the way, as far as was said. */
  boolean saysRefused() {
    return refusalSaid;
  }

  /** Whether what is sent is refused, as far as can be told. */
  boolean refused() {
    return patience.refused();
  }

  /** A new connection begins anew above the mark. */
  void connected(Duration now) {
    patience.progressed(now);
    refusalSaid = false;
    queue.restart();
  }

  /** A sample was queued; the first one that waits starts the wait. */
  void queued(Duration now) {
    if (outbox.mark() + 1 >= outbox.last()) {
      patience.waiting(now);
    }
  }

  /** Says whether the mark has moved. */
  boolean stored(StoredMark stored, Duration now) {
    if (!stored.outbox().equals(outbox.name()) || stored.sequence() <= outbox.mark()) {
      return false;
    }
    outbox.forget(stored.sequence());
    queue.progressed();
    boolean wasRefused = patience.refused();
    patience.progressed(now);
    if (wasRefused) {
      refusalSaid = false;
      Logger.info("The dashboard stores readings again");
      queue.restart();
    }
    return true;
  }

  /**
   * The dashboard has said whether it is there. One that has just come back may have missed
   * everything sent before.
   *
   * @param heardNow on a connection that stands; else what it says may be old
   * @return whether everything above the mark is queued again
   */
  boolean dashboard(boolean there, boolean heardNow, Duration now) {
    patience.dashboard(there);
    boolean again = there && heardNow && outbox.mark() < outbox.last();
    if (again) {
      patience.progressed(now);
      queue.restart();
    }
    return again;
  }

  /** Whether, after too long a wait, something is queued again. */
  boolean overdue(Duration now) {
    if (outbox.mark() >= outbox.last() || !patience.isOver(now)) {
      return false;
    }
    Duration waited = patience.over(now);
    if (patience.refused()) {
      tryFirst();
    } else {
      Logger.debug("The dashboard stored nothing for {} s: sending again", waited.toSeconds());
      queue.restart();
    }
    return true;
  }

  /** Only the first that waits: when that is stored the mark moves, and the rest follows. */
  private void tryFirst() {
    if (!refusalSaid) {
      refusalSaid = true;
      Logger.warn(
          "The broker accepts readings and the dashboard is running, but none are stored. This"
              + " device may not be allowed to publish as room {} device {}. Pair it again"
              + " (layroom-device pair). Samples are saved until then",
          channel.room(),
          channel.device());
    }
    queue.tryFirst();
  }
}
