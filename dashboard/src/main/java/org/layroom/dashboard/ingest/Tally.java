package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.layroom.device.pace.Pace;
import org.tinylog.Logger;

/** Counts what comes in, and says each kind of trouble at most once a minute. */
final class Tally {
  private static final Duration QUIET = Duration.ofMinutes(1);

  private final Pace pace;
  private final AtomicLong messages = new AtomicLong();
  private final AtomicLong samples = new AtomicLong();
  private final AtomicLong duplicates = new AtomicLong();
  private final AtomicLong corrected = new AtomicLong();
  private final Map<Refusal, AtomicLong> refused = new EnumMap<>(Refusal.class);
  private final Map<Refusal, Duration> lastSaid = new EnumMap<>(Refusal.class);

  Tally(Pace pace) {
    this.pace = pace;
    for (Refusal reason : Refusal.values()) {
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

  void refuse(Refusal reason, String topic, String words) {
    AtomicLong count = refused.get(reason);
    if (count == null) {
      throw new IllegalStateException("no counter for " + reason);
    }
    long n = count.incrementAndGet();
    if (due(reason)) {
      Logger.warn("{} on {} ({} so far: {})", words, topic, reason.words(), n);
    }
  }

  private synchronized boolean due(Refusal reason) {
    Duration now = pace.uptime();
    Duration last = lastSaid.get(reason);
    if (last != null && now.minus(last).compareTo(QUIET) < 0) {
      return false;
    }
    lastSaid.put(reason, now);
    return true;
  }

  IngestCounts snapshot() {
    Map<Refusal, Long> reasons = new EnumMap<>(Refusal.class);
    refused.forEach((reason, count) -> reasons.put(reason, count.get()));
    return new IngestCounts(
        messages.get(), samples.get(), duplicates.get(), corrected.get(), reasons);
  }
}
