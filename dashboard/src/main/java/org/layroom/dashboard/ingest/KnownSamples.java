package org.layroom.dashboard.ingest;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.layroom.dashboard.store.NumberRanges;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.StoredRange;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;

/**
 * What the listeners have heard, so that they hear nothing twice although they hear it before it is
 * stored. It decides nothing about storing. For one thread.
 */
final class KnownSamples {
  /** Of readings without an outbox only so many moments are remembered. */
  private static final int MOST_MOMENTS = 1000;

  private record Outbox(Channel channel, String name) {}

  private record Moment(Channel channel, Instant original, List<String> names) {}

  private final Map<Outbox, NumberRanges> numbers = new HashMap<>();
  private final Set<Moment> moments = new LinkedHashSet<>();

  /** Begins with everything that is stored. */
  KnownSamples(List<StoredRange> stored) {
    stored.forEach(range -> add(range.channel(), range.outbox(), range.first(), range.last()));
  }

  /** Whether a sample is new; from now on it is not. */
  boolean isNew(StoreEntry.Sample sample) {
    if (sample.position().isPresent()) {
      OutboxPosition position = sample.position().get();
      return add(sample.channel(), position.outbox(), position.sequence(), position.sequence());
    }
    List<String> names = new ArrayList<>();
    sample.readings().forEach(reading -> names.add(reading.name()));
    sample.rejected().forEach(rejected -> names.add(rejected.reading().name()));
    boolean added = moments.add(new Moment(sample.channel(), sample.times().original(), names));
    if (moments.size() > MOST_MOMENTS) {
      moments.remove(moments.iterator().next());
    }
    return added;
  }

  /** Numbers that will never come. */
  void lost(StoreEntry.Lost lost) {
    add(lost.channel(), lost.outbox(), lost.first(), lost.last());
  }

  /** False when all of them were there. */
  private boolean add(Channel channel, String outbox, long first, long last) {
    return numbers
        .computeIfAbsent(new Outbox(channel, outbox), name -> new NumberRanges())
        .add(first, last, range -> {});
  }
}
