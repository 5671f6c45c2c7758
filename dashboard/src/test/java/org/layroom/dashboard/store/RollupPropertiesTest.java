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
import java.util.List;
import java.util.Optional;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.lifecycle.AfterTry;
import net.jqwik.api.lifecycle.BeforeTry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.files.FolderTree;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/**
 * Strips out of hours and minutes against the plainest computation there is, over the list of what
 * was put in: two devices, gaps, backlogs that come days later, the nights on which clocks are set
 * (25 October and 1 November 2026 in Berlin and Denver), restarts, and levels that were dropped.
 */
class RollupPropertiesTest {
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("shop", "annex");
  private static final Instant START = Instant.parse("2026-10-10T07:13:20Z");
  private static final Instant END = START.plus(Duration.ofDays(40));
  private static final Duration HOUR = Duration.ofHours(1);

  private Path folder = Path.of("");

  @BeforeTry
  void makeFolder() throws IOException {
    folder = Files.createTempDirectory("layroom-rollups");
  }

  @AfterTry
  void removeFolder() throws IOException {
    FolderTree.delete(folder);
  }

  private record Taken(Instant time, double value) {}

  /** What the two devices measured; the annex measures humidity, the bench temperature. */
  private static final class Measured {
    private final Random random;
    private final List<Taken> bench = new ArrayList<>();
    private final List<Taken> annex = new ArrayList<>();
    private final List<StoreEntry.Sample> inOrder = new ArrayList<>();

    Measured(Random random) {
      this.random = random;
      measure(BENCH, "temperature", bench);
      measure(ANNEX, "humidity", annex);
      inOrder.sort((a, b) -> a.times().corrected().compareTo(b.times().corrected()));
    }

    private void measure(Channel channel, String series, List<Taken> taken) {
      long sequence = 0;
      Instant time = START.plusMillis(random.nextInt(3_600_000));
      while (time.isBefore(END)) {
        double value = random.nextInt(10_000) / 100.0;
        taken.add(new Taken(time, value));
        inOrder.add(
            new StoreEntry.Sample(
                channel,
                Optional.of(new OutboxPosition("box", ++sequence)),
                SampleTimes.asSaid(time, time),
                List.of(Reading.of(series, "", value)),
                List.of()));
        boolean away = random.nextInt(40) == 0;
        time = time.plusMillis(1 + random.nextInt(away ? 5 * 86_400_000 : 2_400_000));
      }
    }

    /** The order in which it comes: some stretches are held back and come much later. */
    List<StoreEntry> asItComes() {
      List<StoreEntry> coming = new ArrayList<>();
      List<StoreEntry> held = new ArrayList<>();
      boolean holding = false;
      for (StoreEntry.Sample sample : inOrder) {
        if (random.nextInt(60) == 0) {
          holding = !holding;
        }
        if (holding) {
          held.add(sample);
        } else {
          coming.add(sample);
          if (!held.isEmpty() && random.nextInt(200) == 0) {
            Collections.shuffle(held, random);
            coming.addAll(held);
            held.clear();
          }
        }
        if (random.nextInt(20) == 0) {
          coming.add(sample); // comes twice
        }
      }
      coming.addAll(held);
      return coming;
    }
  }

  private void fill(List<StoreEntry> coming, Random random) {
    int at = 0;
    Store store = StoreFolder.open(folder);
    try {
      while (at < coming.size()) {
        int end = Math.min(coming.size(), at + 1 + random.nextInt(30));
        store.append(coming.subList(at, end));
        at = end;
        if (random.nextInt(100) == 0) {
          store.close();
          store = StoreFolder.open(folder);
        }
      }
    } finally {
      store.close();
    }
  }

  private static long agree(SeriesHistory strip, List<Taken> taken, int points) {
    assertTrue(strip.buckets().size() <= points, strip.buckets().size() + " of " + points);
    long counted = 0;
    for (Bucket bucket : strip.buckets()) {
      double min = Double.POSITIVE_INFINITY;
      double max = Double.NEGATIVE_INFINITY;
      double sum = 0;
      long n = 0;
      for (Taken one : taken) {
        if (!one.time().isBefore(bucket.from()) && one.time().isBefore(bucket.to())) {
          min = Math.min(min, one.value());
          max = Math.max(max, one.value());
          sum += one.value();
          n++;
        }
      }
      assertEquals(n, bucket.n(), () -> "values in " + bucket);
      assertEquals(min, bucket.min());
      assertEquals(max, bucket.max());
      assertEquals(sum / n, bucket.mean(), 1e-9);
      counted += n;
    }
    return counted;
  }

  private static long between(List<Taken> taken, Instant from, Instant to) {
    return taken.stream()
        .filter(one -> !one.time().isBefore(from) && one.time().isBefore(to))
        .count();
  }

  private static void agree(Store store, String series, List<Taken> taken, Random random) {
    for (int i = 0; i < 12; i++) {
      Instant from = START.minus(HOUR).plusSeconds(random.nextInt(41 * 86_400));
      Instant to = from.plusSeconds(60 + random.nextInt(random.nextBoolean() ? 86_400 : 3_456_000));
      int points = random.nextBoolean() ? 1 + random.nextInt(6) : 1 + random.nextInt(500);
      agree(store, series, taken, from, to, points);
    }
    agree(store, series, taken, START.minus(HOUR), END.plus(HOUR), 1000);
    agree(store, series, taken, START.minus(HOUR), END.plus(HOUR), 200);
    agree(store, series, taken, START.minus(HOUR), END.plus(HOUR), 1);
  }

  private static void agree(
      Store store, String series, List<Taken> taken, Instant from, Instant to, int points) {
    SeriesHistory strip = store.history().between(BENCH.room(), series, from, to, points);
    long counted = agree(strip, taken, points);
    assertTrue(counted >= between(taken, from, to), "nothing inside is missing");
    assertTrue(
        counted <= between(taken, from.minus(HOUR), to.plus(HOUR)), "widened to an hour at most");
  }

  @Property(tries = 25, shrinking = ShrinkingMode.OFF)
  void stripsAgreeWithAddingUpByHand(@ForAll long seed) {
    Random random = new Random(seed);
    Measured measured = new Measured(random);
    fill(measured.asItComes(), random);
    try (Store store = StoreFolder.open(folder)) {
      agree(store, "temperature", measured.bench, random);
      agree(store, "humidity", measured.annex, random);
    }
  }

  /** Whatever was dropped, and whatever comes late after that, a coarser level still has it all. */
  @Property(tries = 25, shrinking = ShrinkingMode.OFF)
  void stripsStayRightWhenFinerLevelsAreDropped(@ForAll long seed) {
    Random random = new Random(seed);
    Measured measured = new Measured(random);
    List<StoreEntry> coming = measured.asItComes();
    int half = coming.size() / 2;
    fill(coming.subList(0, half), random);
    Instant minutes = START.plus(Duration.ofDays(random.nextInt(25)));
    Instant readings = minutes.plusSeconds(random.nextInt(15 * 86_400));
    Spared spared =
        new Spared(
            BENCH.room(),
            START.plusSeconds(random.nextInt(20 * 86_400)),
            START.plusSeconds(20L * 86_400 + random.nextInt(5 * 86_400)));
    try (Store store = StoreFolder.open(folder)) {
      store.archive().dropBefore(Level.READINGS, readings, List.of(spared));
      store.archive().dropBefore(Level.MINUTES, minutes, List.of(spared));
    }
    fill(coming.subList(half, coming.size()), random);
    try (Store store = StoreFolder.open(folder)) {
      agree(store, "temperature", measured.bench, random);
      agree(store, "humidity", measured.annex, random);
      store.archive().dropBefore(Level.READINGS, readings, List.of(spared));
      store.archive().dropBefore(Level.MINUTES, minutes, List.of(spared));
      agree(store, "temperature", measured.bench, random);
      agree(store, "humidity", measured.annex, random);
    }
  }
}
