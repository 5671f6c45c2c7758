package org.layroom.dashboard.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/** What goes, what stays, and that a part's record does not change by it. */
class RetentionTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Instant NOW = Instant.parse("2026-11-30T10:20:00Z");
  private static final Instant BEGUN = NOW.minus(Duration.ofDays(100));
  private static final Retention KEPT =
      new Retention(
          Optional.of(Duration.ofDays(30)), Optional.of(Duration.ofDays(60)), Optional.empty());

  @TempDir Path folder;

  /** A reading every twenty minutes for 100 days, its value the number of the reading. */
  private static void fill(Store store) {
    List<StoreEntry> batch = new ArrayList<>();
    for (int i = 0; i < 100 * 72; i++) {
      Instant time = BEGUN.plus(Duration.ofMinutes(20L * i));
      batch.add(
          new StoreEntry.Sample(
              BENCH,
              Optional.of(new OutboxPosition("box", i + 1)),
              SampleTimes.asSaid(time, time),
              List.of(Reading.of("temperature", "Cel", i)),
              List.of()));
    }
    store.append(batch);
  }

  private static Spared spared(int fromDay, int toDay) {
    return new Spared(
        BENCH.room(), BEGUN.plus(Duration.ofDays(fromDay)), BEGUN.plus(Duration.ofDays(toDay)));
  }

  private static long raw(Store store, int fromDay, int toDay) {
    return store
        .history()
        .countReadings(
            BENCH.room(), BEGUN.plus(Duration.ofDays(fromDay)), BEGUN.plus(Duration.ofDays(toDay)));
  }

  private static SeriesHistory strip(Store store, int fromDay, int toDay, int points) {
    return store
        .history()
        .between(
            BENCH.room(),
            "temperature",
            BEGUN.plus(Duration.ofDays(fromDay)),
            BEGUN.plus(Duration.ofDays(toDay)),
            points);
  }

  @Test
  void eachLevelGoesAtItsOwnAgeAndTheWholeStripStays() {
    try (Store store = StoreFolder.open(folder)) {
      fill(store);
      SeriesHistory before = strip(store, 0, 100, 400);
      List<String> said = KEPT.drop(store.archive(), NOW, List.of(), List.of());
      assertEquals(2, said.size(), String.join(", ", said));
      assertEquals(0, raw(store, 0, 70));
      assertEquals(30 * 72, raw(store, 70, 100));
      assertEquals(before, strip(store, 0, 100, 400));
      assertEquals(Duration.ofHours(1), strip(store, 10, 11, 500).bucketWidth(), "hours are left");
      assertEquals(72, strip(store, 50, 51, 1440).buckets().size(), "minutes are left");
      assertEquals(72, strip(store, 90, 91, 1440).buckets().size(), "readings are left");
      assertEquals(List.of(), KEPT.drop(store.archive(), NOW, List.of(), List.of()));
    }
  }

  @Test
  void ofAnOpenPartNothingGoesAndOfAFinishedOneOnlyRawReadings() {
    try (Store store = StoreFolder.open(folder)) {
      fill(store);
      SeriesHistory open = strip(store, 10, 11, 1440);
      SeriesHistory record = strip(store, 20, 22, 288);
      KEPT.drop(store.archive(), NOW, List.of(spared(10, 12)), List.of(spared(20, 22)));
      assertEquals(2 * 72, raw(store, 0, 70));
      assertEquals(2 * 72, raw(store, 10, 12));
      assertEquals(open, strip(store, 10, 11, 1440), "drawn from readings as before");
      assertEquals(record, strip(store, 20, 22, 288), "a record is drawn from minutes");
      assertEquals(144, record.buckets().size());
      assertEquals(Duration.ofHours(1), strip(store, 30, 31, 500).bucketWidth());
    }
  }

  @Test
  void aBacklogThatComesAfterItsTimeWasDroppedCountsOnceAndStaysAsLongAsAnyOther() {
    try (Store store = StoreFolder.open(folder)) {
      fill(store);
      KEPT.drop(store.archive(), NOW, List.of(), List.of());
      Instant late = BEGUN.plus(Duration.ofDays(10)).plusSeconds(5);
      StoreEntry.Sample sample =
          new StoreEntry.Sample(
              BENCH,
              Optional.of(new OutboxPosition("box", 9000)),
              SampleTimes.asSaid(late, NOW),
              List.of(Reading.of("temperature", "Cel", 5000)),
              List.of());
      store.append(List.of(sample, sample));
      assertEquals(73, values(strip(store, 10, 11, 24)));
      KEPT.drop(store.archive(), NOW, List.of(), List.of());
      assertEquals(1, raw(store, 10, 11), "received just now");
      assertEquals(73, values(strip(store, 10, 11, 24)));
      assertEquals(73, values(strip(store, 10, 11, 1000)), "one reading is not the whole day");
    }
  }

  /** The stretch begins at twenty past, so its hours hold two values of neighbors on each side. */
  private static long values(SeriesHistory strip) {
    long all = strip.buckets().stream().mapToLong(Bucket::n).sum();
    return strip.bucketWidth().compareTo(Duration.ofHours(1)) < 0 ? all : all - 3;
  }

  @Test
  void aFinerLevelIsNeverKeptLongerThanACoarserOne() {
    Optional<Duration> month = Optional.of(Duration.ofDays(30));
    Optional<Duration> year = Optional.of(Duration.ofDays(365));
    assertThrows(IllegalArgumentException.class, () -> new Retention(year, month, year));
    assertThrows(
        IllegalArgumentException.class, () -> new Retention(month, Optional.empty(), year));
    assertTrue(new Retention(month, year, Optional.empty()).words().contains("365 days"));
  }
}
