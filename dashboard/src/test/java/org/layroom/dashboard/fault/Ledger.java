package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Series;

/**
 * What one device has measured, kept apart from everything that is tested: the value of a reading
 * follows from its number, so that any store can be held against it.
 */
final class Ledger {
  static final Channel CHANNEL = Channel.of("shop", "bench");
  static final String OUTBOX = "box-1";
  private static final Duration FAR = Duration.ofDays(300);

  private final Instant first = Instant.now().minusSeconds(60);
  private long measured;

  static double temperatureC(long sequence) {
    return 15 + sequence * 37 % 1000 / 100.0;
  }

  /** The next reading, a millisecond after the one before. */
  void measure(OutboxDevice device) {
    measured = device.measure(first.plusMillis(measured + 1), temperatureC(measured + 1));
  }

  long measured() {
    return measured;
  }

  /** Whether a store has every reading once, in order, with its value, in rows and roll-ups. */
  void assertKeptOnce(Path data) {
    try (Store store = StoreFolder.open(data)) {
      assertKeptOnce(store);
    }
  }

  void assertKeptOnce(Store store) {
    assertEquals(
        LongStream.rangeClosed(1, measured).boxed().toList(),
        store.archive().sequences(CHANNEL, OUTBOX),
        "every number once and in order");
    List<Long> wrong = new ArrayList<>();
    store
        .archive()
        .export(
            CHANNEL.room(),
            first.minus(FAR),
            first.plus(FAR),
            sample -> {
              long sequence = sample.position().map(OutboxPosition::sequence).orElse(0L);
              double kept = sample.readings().get(0).value().orElse(Double.NaN);
              if (Double.compare(kept, temperatureC(sequence)) != 0) {
                wrong.add(sequence);
              }
            });
    assertEquals(List.of(), wrong, "readings with another value than was measured");
    assertEquals(measured, rolledUp(store), "roll-ups count every reading once");
  }

  private long rolledUp(Store store) {
    return store
        .history()
        .between(
            CHANNEL.room(),
            Series.TEMPERATURE,
            first.minus(Duration.ofDays(30)),
            first.plus(Duration.ofDays(1)),
            10)
        .buckets()
        .stream()
        .mapToLong(bucket -> bucket.n())
        .sum();
  }
}
