package org.layroom.dashboard.ingest;

import com.code_intelligence.jazzer.junit.FuzzTest;
import com.code_intelligence.jazzer.mutation.annotation.NotNull;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.testing.HandPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Topic;

/**
 * Any message on the topics of readings and status: entries for the store, or a count of what was
 * refused. No impossible value is among the possible ones, and nothing is dated in the future.
 */
class IngestFuzz {
  private static final Instant NOW = Instant.parse("2026-03-02T18:00:00Z");

  /** The year 9999. */
  private static final long LAST_MILLIS = 253_402_300_799_999L;

  @FuzzTest
  void messages(byte @NotNull [] bytes, boolean status) {
    Channel channel = Channel.of("shop", "bench");
    Topic topic = status ? Topic.STATUS : Topic.READINGS;
    IngestTally tally = new IngestTally(new HandPace(NOW));
    Inbound inbound =
        new Inbound(
            channel.topic(topic), bytes, NOW, Optional.of(NOW.minusSeconds(3600)), () -> {});
    Optional<Channel.Addressed> addressed = Channel.parse(inbound.topic());
    List<StoreEntry> entries =
        new MessageReader(tally, new SeriesCap(new RoomCap(10)))
            .entries(addressed.orElseThrow(), inbound);
    for (StoreEntry entry : entries) {
      if (entry instanceof StoreEntry.Sample sample) {
        dated(sample);
        sample.readings().forEach(IngestFuzz::possible);
      }
    }
  }

  private static void dated(StoreEntry.Sample sample) {
    Instant corrected = sample.times().corrected();
    if (corrected.isAfter(NOW.plus(SampleClock.TOLERANCE))
        || sample.times().original().toEpochMilli() > LAST_MILLIS) {
      throw new AssertionError("dated " + corrected + ", received " + NOW);
    }
  }

  private static void possible(Reading reading) {
    if (reading.value().isPresent() && !(Math.abs(reading.value().getAsDouble()) <= 1e15)) {
      throw new AssertionError("kept as possible: " + reading);
    }
  }
}
