package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/** Counts what comes in, and says each kind of trouble at most once a minute. */
final class IngestTally {
  private static final Duration QUIET = Duration.ofMinutes(1);

  private final Pace pace;
  private final AtomicLong messages = new AtomicLong();
  private final AtomicLong samples = new AtomicLong();
  private final AtomicLong duplicates = new AtomicLong();
  private final AtomicLong corrected = new AtomicLong();
  private final Map<Rejection, AtomicLong> refused = new EnumMap<>(Rejection.class);
  private final Map<Rejection, Duration> lastSaid = new EnumMap<>(Rejection.class);

  IngestTally(Pace pace) {
    this.pace = pace;
    for (Rejection reason : Rejection.values()) {
      refused.put(reason, new AtomicLong());
    }
  }

  void message() {
    messages.incrementAndGet();
  }

  void sample(boolean fresh) {
    (fresh ? samples : duplicates).incrementAndGet();
  }

  void correctedClock() {
    corrected.incrementAndGet();
  }

  void refuse(Rejection reason, String topic, String words) {
    AtomicLong count = refused.get(reason);
    if (count == null) {
      throw new IllegalStateException("no counter for " + reason);
    }
    long n = count.incrementAndGet();
    if (due(reason)) {
      Logger.warn("{} on {} ({} so far: {})", words, topic, reason.words(), n);
    }
  }

  private synchronized boolean due(Rejection reason) {
    Duration now = pace.uptime();
    Duration last = lastSaid.get(reason);
    if (last != null && now.minus(last).compareTo(QUIET) < 0) {
      return false;
    }
    lastSaid.put(reason, now);
    return true;
  }

  IngestCounts snapshot() {
    Map<Rejection, Long> reasons = new EnumMap<>(Rejection.class);
    refused.forEach((reason, count) -> reasons.put(reason, count.get()));
    return new IngestCounts(
        messages.get(), samples.get(), duplicates.get(), corrected.get(), reasons);
  }
}
