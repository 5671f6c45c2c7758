package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxAppend;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Power cuts under the outbox, simulated: between two appends that were waited for, any part of
 * what the second one wrote is on the disk.
 */
@ExtendWith(Campaign.class)
@Timeout(1200)
class OutboxPowerCutFaultsIT {
  private static final Instant FIRST = Instant.parse("2026-03-02T06:00:00Z");

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  @Test
  @Fault(
      value =
          "power cut while the outbox writes: any of the sectors of the last record are missing",
      promised =
          "every sample that had its number is there, no number is given to two that were sent")
  void theOutboxIsTorn(Witness witness) throws Exception {
    Random random = witness.random();
    int cuts = witness.times(50, 2000);
    OutboxOptions options = new OutboxOptions(OutboxOptions.Sync.EACH, 4096, Long.MAX_VALUE);
    int lastKept = 0;
    Set<Long> given = new TreeSet<>();
    Path now = folder.resolve("outbox-0");
    Outbox.open(now, options).close();
    for (int cut = 1; cut <= cuts; cut++) {
      Map<String, byte[]> before;
      Map<String, byte[]> after;
      long mark;
      long last;
      try (Outbox outbox = Outbox.open(now, options)) {
        for (int i = 1 + random.nextInt(30); i > 0; i--) {
          assertTrue(given.add(append(outbox)), "no number twice");
        }
        outbox.forget(random.nextLong(outbox.last() + 1));
        before = TornDisk.read(now, "lock");
        last = append(outbox);
        mark = outbox.mark();
        after = TornDisk.read(now, "lock");
      }
      assertFalse(given.contains(last), "no number twice");
      now = folder.resolve("outbox-" + cut);
      TornDisk.write(now, tornOutbox(before, after, random));
      TornDisk.delete(folder.resolve("outbox-" + (cut - 1)));
      if (assertHeld(now, options, mark, given).contains(last)) {
        given.add(last);
        lastKept++;
      }
    }
    witness.saw("%d cuts, %d of them with a whole last record", cuts, lastKept);
    witness.saw("%d samples", given.size());
  }

  @Test
  @Fault(
      value =
          "power cut up to a minute after the outbox waited for the disk: any of the sectors written since are missing",
      promised =
          "what was there when it waited is there; no number is given to two that were sent; what is missing is told as lost")
  void theOutboxIsTornBetweenTwoSyncs(Witness witness) throws Exception {
    Random random = witness.random();
    int cuts = witness.times(50, 2000);
    OutboxOptions options = new OutboxOptions(OutboxOptions.Sync.EACH_MINUTE, 4096, Long.MAX_VALUE);
    Set<Long> given = new TreeSet<>();
    Set<Long> synced = new TreeSet<>();
    long missing = 0;
    Path now = folder.resolve("outbox-0");
    Outbox.open(now, options).close();
    for (int cut = 1; cut <= cuts; cut++) {
      Map<String, byte[]> before;
      Map<String, byte[]> after;
      Set<Long> since = new TreeSet<>();
      long mark;
      try (Outbox outbox = Outbox.open(now, options)) {
        long first = append(outbox);
        assertTrue(given.add(first), "no number twice");
        synced.add(first);
        outbox.forget(random.nextLong(outbox.last() + 1));
        mark = outbox.mark();
        before = TornDisk.read(now, "lock");
        for (int i = random.nextInt(6); i > 0; i--) {
          long next = append(outbox);
          assertTrue(given.add(next), "no number twice");
          since.add(next);
        }
        after = TornDisk.read(now, "lock");
      }
      now = folder.resolve("outbox-" + cut);
      Map<String, byte[]> torn = tornOutbox(before, after, random);
      torn.put("open", "the start of the machine before".getBytes(StandardCharsets.ISO_8859_1));
      TornDisk.write(now, torn);
      TornDisk.delete(folder.resolve("outbox-" + (cut - 1)));
      List<Long> held = assertHeld(now, options, mark, synced);
      missing += since.stream().filter(one -> !held.contains(one)).count();
      held.forEach(synced::add);
    }
    witness.saw("%d cuts, %d samples, %d of them missing", cuts, given.size(), missing);
  }

  private static Map<String, byte[]> tornOutbox(
      Map<String, byte[]> before, Map<String, byte[]> after, Random random) {
    Map<String, byte[]> torn = new TreeMap<>(before);
    for (Map.Entry<String, byte[]> file : after.entrySet()) {
      byte[] old = before.getOrDefault(file.getKey(), new byte[] {});
      boolean appears = before.containsKey(file.getKey()) || random.nextBoolean();
      if (appears && file.getKey().endsWith(".samples")) {
        torn.put(file.getKey(), TornDisk.torn(old, file.getValue(), random));
      }
    }
    return torn;
  }

  private static long append(Outbox outbox) {
    long next = outbox.last() + 1;
    Sample sampled =
        new Sample(
            Duration.ofSeconds(10 * next),
            FIRST.plusSeconds(10 * next),
            true,
            readings(next),
            List.of());
    return ((OutboxAppend.Kept) outbox.append(sampled)).sample().sequence();
  }

  /** Numbers that are held; none is missing that was given, and what is no more is told. */
  private static List<Long> assertHeld(
      Path folder, OutboxOptions options, long mark, Set<Long> given) throws IOException {
    try (Outbox outbox = Outbox.open(folder, options)) {
      List<OutboxSample> held =
          outbox.read(mark + 1, Integer.MAX_VALUE).stream()
              .filter(sample -> sample.sequence() > mark)
              .toList();
      List<Long> numbers = held.stream().map(OutboxSample::sequence).toList();
      assertTrue(
          numbers.containsAll(given.stream().filter(one -> one > mark).toList()),
          "what was numbered and is not stored upstairs is held");
      for (OutboxSample sample : held) {
        assertEquals(readings(sample.sequence()), sample.readings(), "sample " + sample.sequence());
      }
      Set<Long> told = new TreeSet<>(numbers);
      outbox.lost().forEach(lost -> told.addAll(range(lost.first(), lost.last())));
      assertTrue(told.containsAll(range(mark + 1, outbox.last())), "nobody waits for ever");
      return numbers;
    }
  }

  private static List<Long> range(long first, long last) {
    return LongStream.rangeClosed(first, last).boxed().toList();
  }

  private static List<Reading> readings(long sequence) {
    return List.of(
        Reading.of(Series.TEMPERATURE, Series.CELSIUS, Ledger.temperatureC(sequence)),
        Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 55));
  }
}
