package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/**
 * Power cuts, simulated: between two writes that were waited for, any part of what the second one
 * wrote is on the disk. The order that a sync enforces is kept: SQLite syncs its log before it
 * copies pages into the database (sqlite.org, "Write-Ahead Logging", section 2.2), so the database
 * is torn only when the log is whole.
 */
@ExtendWith(Campaign.class)
@Timeout(1200)
class PowerCutFaultsIT {
  private static final Instant FIRST = Instant.parse("2026-03-02T06:00:00Z");

  /** After so many cuts the store begins anew: it is copied for each. */
  private static final int FRESH_STORE = 20;

  private static final String STORE = "layroom.db";
  private static final String LOG = "layroom.db-wal";

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  @Test
  @Fault(
      value = "power cut while the store writes: any of the sectors of the last batch are missing",
      promised = "what was said to be stored is there, the last batch is there whole or not at all")
  void theStoreIsTorn(Witness witness) throws Exception {
    Random random = witness.random();
    int cuts = witness.times(20, 300);
    int whole = 0;
    int checkpoints = 0;
    long stored = 0;
    long readings = 0;
    Path now = folder.resolve("store-0");
    StoreFolder.open(now).close();
    for (int cut = 1; cut <= cuts; cut++) {
      if (cut % FRESH_STORE == 0) {
        TornDisk.delete(now);
        StoreFolder.open(now).close();
        readings += stored;
        stored = 0;
      }
      Cut made = cut(now, stored, cut % 4 == 0, random);
      checkpoints += made.checkpoint() ? 1 : 0;
      now = folder.resolve("store-" + cut);
      TornDisk.write(now, tornStore(made, random));
      TornDisk.delete(folder.resolve("store-" + (cut - 1)));
      long there = assertWhole(now, made.stored(), made.next());
      whole += there == made.next() ? 1 : 0;
      stored = there;
    }
    witness.saw("%d cuts, %d of them with a whole last batch", cuts, whole);
    witness.saw(
        "%d while pages went into the database, %d readings", checkpoints, readings + stored);
  }

  /**
   * The disk before and after the last batch before a power cut.
   *
   * @param stored up to which number everything had been committed
   * @param next the last number of the last batch
   */
  private record Cut(
      Map<String, byte[]> before, Map<String, byte[]> after, long stored, long next) {
    boolean checkpoint() {
      return !Arrays.equals(before.get(STORE), after.get(STORE));
    }
  }

  /** Stores batches; on wish until SQLite copies its log of 1000 pages into the database. */
  private static Cut cut(Path folder, long already, boolean toCheckpoint, Random random)
      throws IOException {
    try (Store store = StoreFolder.open(folder)) {
      long stored = already;
      for (int batches = random.nextInt(12); batches > 0; batches--) {
        stored = append(store, stored, random);
      }
      Map<String, byte[]> before = TornDisk.read(folder, "-shm", ".lock");
      while (true) {
        long next = append(store, stored, random);
        Map<String, byte[]> after = TornDisk.read(folder, "-shm", ".lock");
        Cut cut = new Cut(before, after, stored, next);
        if (!toCheckpoint || cut.checkpoint()) {
          return cut;
        }
        before = after;
        stored = next;
      }
    }
  }

  private static long append(Store store, long stored, Random random) {
    long last = stored + 1 + random.nextInt(120);
    store.append(batch(stored + 1, last));
    return last;
  }

  private static Map<String, byte[]> tornStore(Cut cut, Random random) {
    Map<String, byte[]> torn = new TreeMap<>(cut.before());
    byte[] nothing = {};
    String file = LOG;
    if (cut.checkpoint() && random.nextInt(4) > 0) {
      torn.put(LOG, cut.after().getOrDefault(LOG, nothing));
      file = STORE;
    }
    torn.put(
        file,
        TornDisk.torn(
            cut.before().getOrDefault(file, nothing),
            cut.after().getOrDefault(file, nothing),
            random));
    return torn;
  }

  private static long assertWhole(Path folder, long atLeast, long atMost) {
    try (Store store = StoreFolder.open(folder)) {
      List<Long> there = store.archive().sequences(Ledger.CHANNEL, Ledger.OUTBOX);
      assertEquals(LongStream.rangeClosed(1, there.size()).boxed().toList(), there);
      long last = there.size();
      assertTrue(last == atLeast || last == atMost, last + " of " + atLeast + " or " + atMost);
      assertEquals(last, store.marks().stream().mapToLong(one -> one.mark().sequence()).sum());
      long rolledUp =
          store
              .history()
              .between(
                  Ledger.CHANNEL.room(),
                  Series.TEMPERATURE,
                  FIRST.minus(Duration.ofDays(10)),
                  FIRST.plus(Duration.ofDays(300)),
                  10)
              .buckets()
              .stream()
              .mapToLong(bucket -> bucket.n())
              .sum();
      assertEquals(last, rolledUp, "roll-ups count every reading once");
      return last;
    }
  }

  private static List<StoreEntry> batch(long first, long last) {
    List<StoreEntry> entries = new ArrayList<>();
    for (long sequence = first; sequence <= last; sequence++) {
      Instant time = FIRST.plusSeconds(10 * sequence);
      entries.add(
          new StoreEntry.Sample(
              Ledger.CHANNEL,
              Optional.of(new OutboxPosition(Ledger.OUTBOX, sequence)),
              SampleTimes.asSaid(time, time),
              readings(sequence),
              List.of()));
    }
    return entries;
  }

  private static List<Reading> readings(long sequence) {
    return List.of(
        Reading.of(Series.TEMPERATURE, Series.CELSIUS, Ledger.temperatureC(sequence)),
        Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 55));
  }
}
