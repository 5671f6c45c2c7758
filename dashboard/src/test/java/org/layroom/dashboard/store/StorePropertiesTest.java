package org.layroom.dashboard.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import net.jqwik.api.constraints.Size;
import net.jqwik.api.lifecycle.AfterTry;
import net.jqwik.api.lifecycle.BeforeTry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/**
 * Laws of the store: order, repetition and splitting of what comes in change nothing; marks and
 * down-sampling agree with the plainest computation there is.
 */
class StorePropertiesTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Instant START = Instant.parse("2026-11-02T00:00:30Z");

  private Path folder = Path.of("");

  @BeforeTry
  void makeFolder() throws IOException {
    folder = Files.createTempDirectory("layroom-store");
  }

  @AfterTry
  void removeFolder() throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }

  /** A sample whose time and value follow from its number; every third has no number. */
  private static StoreEntry.Sample sample(int number) {
    Instant time = START.plusSeconds(17L * number);
    List<Reading> readings = new ArrayList<>();
    readings.add(Reading.of("temperature", "Cel", 15 + number % 7));
    if (number % 2 == 0) {
      readings.add(Reading.of("mold-temperature/fender", "Cel", 20 + number % 5));
    }
    return new StoreEntry.Sample(
        BENCH,
        number % 3 == 0 ? Optional.empty() : Optional.of(new OutboxPosition("box", number)),
        SampleTimes.asSaid(time, time.plusSeconds(1)),
        readings,
        number % 5 == 0
            ? List.of(new RejectedReading(Reading.of("humidity", "%RH", 999), "humidity 999"))
            : List.of());
  }

  private record Content(
      List<ArchivedSample> rows,
      List<Bucket> minutes,
      List<LatestReading> latest,
      List<OutboxMark> marks,
      int rejected) {}

  private static Content content(Store store) {
    List<ArchivedSample> rows = new ArrayList<>();
    store.archive().export(BENCH.room(), Instant.EPOCH, START.plus(Duration.ofDays(9)), rows::add);
    List<Bucket> minutes =
        store
            .history()
            .between(BENCH.room(), "temperature", START, START.plus(Duration.ofDays(9)), 5000)
            .buckets();
    return new Content(
        rows,
        minutes,
        store.sources().latest(BENCH.room()),
        store.marks(),
        store.archive().rejected(BENCH.room()).size());
  }

  @Property(tries = 30, shrinking = ShrinkingMode.OFF)
  void anyOrderRepetitionAndSplittingGiveTheSameStore(
      @ForAll @IntRange(min = 1, max = 60) int samples, @ForAll long seed) {
    Random random = new Random(seed);
    List<StoreEntry> once = new ArrayList<>();
    for (int i = 1; i <= samples; i++) {
      once.add(sample(i));
    }
    List<StoreEntry> shuffled = new ArrayList<>(once);
    for (int i = 0; i < samples; i++) {
      shuffled.add(once.get(random.nextInt(samples)));
    }
    Collections.shuffle(shuffled, random);
    Content straight;
    try (Store store = StoreFolder.open(folder.resolve("straight"))) {
      store.append(once);
      straight = content(store);
    }
    Store store = StoreFolder.open(folder.resolve("shuffled"));
    try {
      long fresh = 0;
      int at = 0;
      while (at < shuffled.size()) {
        int end = Math.min(shuffled.size(), at + 1 + random.nextInt(9));
        fresh += store.append(shuffled.subList(at, end)).fresh().stream().filter(f -> f).count();
        at = end;
        if (random.nextInt(4) == 0) {
          store.close();
          store = StoreFolder.open(folder.resolve("shuffled"));
        }
      }
      assertEquals(samples, fresh);
      assertEquals(straight, content(store));
    } finally {
      store.close();
    }
  }

  @Property(tries = 50)
  void theMarkIsTheEndOfWhatIsDoneWithoutAGap(
      @ForAll @Size(max = 40) List<@LongRange(min = 1, max = 30) Long> sequences,
      @ForAll @LongRange(min = 1, max = 30) long lostFirst,
      @ForAll @IntRange(max = 6) int lostMore) {
    Set<Long> done = new HashSet<>();
    try (Store store = StoreFolder.open(folder)) {
      List<StoreEntry> entries = new ArrayList<>();
      for (long sequence : sequences) {
        entries.add(
            new StoreEntry.Sample(
                BENCH,
                Optional.of(new OutboxPosition("box", sequence)),
                SampleTimes.asSaid(START, START),
                List.of(),
                List.of()));
        done.add(sequence);
      }
      entries.add(
          entries.size() / 2,
          new StoreEntry.Lost(BENCH, "box", lostFirst, lostFirst + lostMore, START));
      for (long i = lostFirst; i <= lostFirst + lostMore; i++) {
        done.add(i);
      }
      long expected = 0;
      while (done.contains(expected + 1)) {
        expected++;
      }
      assertEquals(expected, store.append(entries).marks().get(0).mark().sequence());
    }
  }

  /** Straightforward computation over the values that were put in. */
  @Property(tries = 30, shrinking = ShrinkingMode.OFF)
  void downSamplingAgreesWithAddingUpByHand(
      @ForAll @IntRange(min = 1, max = 500) int points,
      @ForAll @IntRange(min = 1, max = 96) int hours,
      @ForAll long seed) {
    Random random = new Random(seed);
    List<StoreEntry> entries = new ArrayList<>();
    List<Instant> times = new ArrayList<>();
    List<Double> values = new ArrayList<>();
    Instant end = START.plus(Duration.ofHours(hours));
    Instant time = START;
    long number = 1;
    while (time.isBefore(end)) {
      double value = random.nextInt(5000) / 100.0;
      times.add(time);
      values.add(value);
      entries.add(
          new StoreEntry.Sample(
              BENCH,
              Optional.of(new OutboxPosition("box", number++)),
              SampleTimes.asSaid(time, time),
              List.of(Reading.of("temperature", "Cel", value)),
              List.of()));
      time = time.plusMillis(1 + random.nextInt(random.nextInt(20) == 0 ? 7_200_000 : 300_000));
    }
    try (Store store = StoreFolder.open(folder)) {
      store.append(entries);
      SeriesHistory history =
          store.history().between(BENCH.room(), "temperature", START, end, points);
      assertTrue(history.buckets().size() <= points);
      long counted = 0;
      for (Bucket bucket : history.buckets()) {
        double min = Double.POSITIVE_INFINITY;
        double max = Double.NEGATIVE_INFINITY;
        double sum = 0;
        long n = 0;
        for (int i = 0; i < times.size(); i++) {
          if (!times.get(i).isBefore(bucket.from()) && times.get(i).isBefore(bucket.to())) {
            min = Math.min(min, values.get(i));
            max = Math.max(max, values.get(i));
            sum += values.get(i);
            n++;
          }
        }
        assertEquals(n, bucket.n());
        assertEquals(min, bucket.min());
        assertEquals(max, bucket.max());
        assertEquals(sum / n, bucket.mean(), 1e-9);
        counted += n;
      }
      assertEquals(times.size(), counted);
    }
  }
}
