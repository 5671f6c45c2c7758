package org.layroom.dashboard.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.PlannedJobStep;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.store.Retention;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;

/** A room with a part that is still open and one that is finished; another room without parts. */
class OldReadingsTest {
  private static final Channel SHOP = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("annex", "bench");
  private static final Instant BEGUN = Instant.parse("2026-06-01T00:00:00Z");

  @TempDir Path folder;

  private static StoredJobEvent event(int position, int day, JobEvent event) {
    return new StoredJobEvent(
        position,
        "tap-" + position,
        BEGUN.plus(Duration.ofDays(day)),
        event,
        JsonNodeFactory.instance.objectNode());
  }

  private static JobEvent started(String part) {
    return new JobEvent.Started(
        part,
        List.of("left"),
        List.of(new PlannedJobStep("1", StepKind.TRIM, "trim", Optional.empty())),
        true,
        true);
  }

  private static void fill(Store store, Channel channel) {
    List<StoreEntry> hourly = new ArrayList<>();
    for (int i = 0; i < 100 * 24; i++) {
      Instant time = BEGUN.plus(Duration.ofHours(i));
      hourly.add(
          new StoreEntry.Sample(
              channel,
              Optional.empty(),
              SampleTimes.asSaid(time, time),
              List.of(Reading.of("temperature", "Cel", 20)),
              List.of()));
    }
    store.append(hourly);
  }

  private static long readings(Store store, Channel channel, int fromDay, int toDay) {
    return store
        .history()
        .countReadings(
            channel.room(),
            BEGUN.plus(Duration.ofDays(fromDay)),
            BEGUN.plus(Duration.ofDays(toDay)));
  }

  /** How wide the buckets of a day are: an hour where minutes are gone. */
  private static Duration buckets(Store store, Channel channel, int day) {
    return store
        .history()
        .between(
            channel.room(),
            "temperature",
            BEGUN.plus(Duration.ofDays(day)),
            BEGUN.plus(Duration.ofDays(day + 1)),
            288)
        .bucketWidth();
  }

  @Test
  void openPartsKeepEverythingFinishedOnesWhatTheirRecordsAreDrawnFrom() {
    Job finished =
        Job.of(
            "hatch",
            List.of(event(1, 20, started("hatch")), event(2, 22, new JobEvent.GivenUp("torn"))));
    Job open = Job.of("fender", List.of(event(3, 40, started("fender"))));
    Retention retention =
        new Retention(
            Optional.of(Duration.ofDays(10)), Optional.of(Duration.ofDays(50)), Optional.empty());
    try (Store store = StoreFolder.open(folder);
        SteppedPace pace = new SteppedPace(BEGUN.plus(Duration.ofDays(100)))) {
      fill(store, SHOP);
      fill(store, ANNEX);
      OldReadings old =
          new OldReadings(
              store,
              retention,
              room -> room.equals(SHOP.room()) ? List.of(open, finished) : List.of(),
              pace);
      old.drop();
      assertEquals(0, readings(store, SHOP, 0, 39), "a finished part needs no raw readings");
      assertEquals(61 * 24, readings(store, SHOP, 39, 100), "from a day before it was begun");
      assertEquals(10 * 24, readings(store, ANNEX, 0, 100));
      assertEquals(Duration.ofHours(1), buckets(store, SHOP, 10));
      assertEquals(Duration.ofMinutes(5), buckets(store, SHOP, 19));
      assertEquals(Duration.ofMinutes(5), buckets(store, SHOP, 22));
      assertEquals(Duration.ofHours(1), buckets(store, SHOP, 24));
      assertEquals(Duration.ofMinutes(5), buckets(store, SHOP, 45));
      assertEquals(Duration.ofHours(1), buckets(store, ANNEX, 45));
    }
  }
}
