package org.layroom.dashboard.broker;

import io.netty.util.concurrent.EventExecutorGroup;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import org.tinylog.Logger;

/**
 * Says the first refusal of a kind at once, and those of the minute after it in one line with their
 * number, so that who is refused again and again fills no log and is never forgotten.
 */
final class RefusalLog {
  /** Why somebody or something was refused. */
  enum Reason {
    NOT_MQTT("a connection that does not begin with an MQTT CONNECT"),
    LARGE_CONNECT("a CONNECT of more than 4 KiB"),
    SLOW("a connection that did not say its CONNECT within 10 s"),
    CROWD("a connection, because too many wait without a login"),
    LOGIN("a login (not paired, or wrong password; pair the device: layroom pair-device)"),
    WILL("a will"),
    CLIENT_ID("a client id"),
    RIGHT("a topic without the right to it"),
    TOPIC("a topic that nobody may use, and closed the connection"),
    LARGE_PACKET("a message that is too large, and closed the connection");

    private final String words;

    Reason(String words) {
      this.words = words;
    }
  }

  private static final int QUIET_SECONDS = 60;

  private static final class Count {
    private long more;
    private boolean quiet;
    private String last = "";
  }

  private final Map<Reason, Count> counts = new EnumMap<>(Reason.class);
  private Optional<EventExecutorGroup> later = Optional.empty();

  /** From now on the minute's line is written by this executor. */
  synchronized void writeOn(EventExecutorGroup executor) {
    later = Optional.of(executor);
    counts.clear();
  }

  /**
   * Something was refused.
   *
   * @param who whom, and what it was about
   */
  void add(Reason reason, String who) {
    synchronized (this) {
      Count count = counts.computeIfAbsent(reason, any -> new Count());
      count.last = who;
      if (count.quiet) {
        count.more++;
        return;
      }
      count.quiet = tellLater(reason);
    }
    Logger.warn("Broker refused {}: {}", reason.words, who);
  }

  private boolean tellLater(Reason reason) {
    if (later.isEmpty()) {
      return false;
    }
    try {
      return !later
          .get()
          .schedule(() -> minute(reason), QUIET_SECONDS, TimeUnit.SECONDS)
          .isCancelled();
    } catch (RejectedExecutionException e) {
      return false; // the broker is being closed
    }
  }

  private void minute(Reason reason) {
    long more;
    String last;
    synchronized (this) {
      Count count = counts.computeIfAbsent(reason, any -> new Count());
      more = count.more;
      last = count.last;
      count.more = 0;
      count.quiet = more > 0 && tellLater(reason);
    }
    if (more > 0) {
      Logger.warn(
          "Broker refused {}: {} more within a minute, the last {}", reason.words, more, last);
    }
  }
}
