package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.cli.ShippedJars;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.testing.ChildDashboard;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.outbox.SequenceRange;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.Series;

/** More than a shop ever sends, and a month in which nobody took anything. */
@ExtendWith(Campaign.class)
@Timeout(1800)
class LoadFaultsIT {
  private static final Duration PATIENCE = Duration.ofMinutes(3);
  private static final int A_SECOND = 1000;

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime pace = new RealTime();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  @Test
  @Fault(
      value = "1,000 readings a second, each a message of its own, into 96 MiB of heap",
      promised = "every reading stored once; how late, the figures say")
  void aThousandReadingsASecond(Witness witness) throws Exception {
    int seconds = witness.times(10, 600);
    Ledger ledger = new Ledger();
    long[] measuredAt = new long[seconds * A_SECOND + 1];
    long[] late = new long[seconds * A_SECOND + 1];
    Path data = Files.createDirectories(folder.resolve("data"));
    Paired paired = Paired.in(data);
    try (ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty());
        OutboxDevice device = paired.sending(child::broker)) {
      long begun = System.nanoTime();
      int marked = 0;
      for (int i = 1; i <= seconds * A_SECOND; i++) {
        long due = begun + i * 1_000_000L;
        while (System.nanoTime() - due < 0) {
          LockSupport.parkNanos(200_000);
        }
        measuredAt[i] = System.nanoTime();
        ledger.measure(device);
        marked = noteLate(device, marked, measuredAt, late);
      }
      while (marked < ledger.measured()) {
        marked = noteLate(device, marked, measuredAt, late);
        assertTrue(
            System.nanoTime() - begun < PATIENCE.toNanos() + seconds * 1_000_000_000L,
            "only " + marked + " of " + ledger.measured() + " are stored");
        LockSupport.parkNanos(1_000_000);
      }
      witness.saw("%d readings in %d s", ledger.measured(), seconds);
      witness.saw("%d sent again", device.resent());
    }
    Arrays.sort(late);
    long slowest = late[late.length - 1] / 1_000_000;
    witness.saw("half stored within %d ms", late[late.length / 2] / 1_000_000);
    witness.saw(
        "99 %% within %d ms, all within %d ms", late[late.length * 99 / 100] / 1_000_000, slowest);
    ledger.assertKeptOnce(data);
    witness.saw("store %.1f MB", Files.size(data.resolve("layroom.db")) / 1e6);
  }

  private static int noteLate(OutboxDevice device, int marked, long[] measuredAt, long[] late) {
    long now = System.nanoTime();
    int mark = (int) device.mark();
    for (int i = marked + 1; i <= mark; i++) {
      late[i] = now - measuredAt[i];
    }
    return Math.max(marked, mark);
  }

  @Test
  @Fault(
      value = "broker away for 45 days of samples every 10 s",
      promised =
          "the newest 30 days are kept, what was thinned is told, and all of it arrives once")
  void theBrokerIsAwayForLongerThanAMonth(Witness witness) throws Exception {
    int daySamples = witness.times(288, 8640);
    Duration period = Duration.ofDays(1).dividedBy(daySamples);
    Path deviceData = folder.resolve("device");
    Path outboxFolder = deviceData.resolve("outbox");
    long size;
    long last;
    String name;
    SequenceRange lost;
    Instant begun = Instant.now().minus(Duration.ofDays(45));
    try (Outbox outbox = Outbox.open(outboxFolder, OutboxOptions.standard(period))) {
      outbox.syncing(false);
      for (int i = 1; i <= 45 * daySamples; i++) {
        outbox.append(sampled(begun, period.multipliedBy(i)), "months");
      }
      List<SequenceRange> ranges = outbox.lost();
      last = outbox.last();
      name = outbox.name();
      assertEquals(1, ranges.size(), "one stretch was thinned");
      lost = ranges.get(0);
      size = sizeOf(outboxFolder);
      long held = outbox.waiting();
      witness.saw("%d of %d samples held, %.1f MB of outbox", held, last, size / 1e6);
      assertTrue(held <= 30L * daySamples + 3000, "no more than thirty days and one file");
      assertEquals(last, lost.last() + held);
    }
    try (DashboardCore core =
        DashboardCore.start(CoreSettings.embedded(folder.resolve("data"), 0), pace, pace)) {
      long sending = System.nanoTime();
      try (ShippedJars.Running device = device(core, deviceData, period)) {
        assertTrue(device.process().isAlive());
        Until.within(
            PATIENCE,
            "all of it is stored",
            () ->
                core.store().marks().stream()
                    .anyMatch(
                        mark ->
                            mark.mark().outbox().equals(name) && mark.mark().sequence() >= last));
      }
      witness.saw(
          "stored %d s after the broker came", (System.nanoTime() - sending) / 1_000_000_000L);
      assertArrivedOnce(core.store(), name, last, lost);
      witness.saw("%d told as thinned", lost.last());
    }
  }

  private static void assertArrivedOnce(Store store, String name, long last, SequenceRange lost) {
    List<Long> stored =
        store.archive().sequences(Ledger.CHANNEL, name).stream()
            .filter(sequence -> sequence <= last)
            .sorted()
            .toList();
    long first = lost.last() + 1;
    assertEquals(last - first + 1, stored.size());
    assertEquals(first, stored.get(0));
    assertEquals(last, stored.get(stored.size() - 1));
    assertEquals(stored.size(), stored.stream().distinct().count());
  }

  private ShippedJars.Running device(DashboardCore core, Path data, Duration period)
      throws Exception {
    Path config =
        Paired.with(core.logins())
            .settings(
                folder,
                core.brokerUri(),
                data,
                "sample-seconds=%d\n".formatted(period.toSeconds()));
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        config.toString());
  }

  private static Sample sampled(Instant begun, Duration after) {
    return new Sample(
        after,
        begun.plus(after),
        true,
        List.of(
            Reading.of(Series.TEMPERATURE, Series.CELSIUS, 18.5),
            Reading.of(Series.HUMIDITY, Series.RELATIVE_HUMIDITY, 61.2),
            Reading.of(Series.MOLD_TEMPERATURE, Series.CELSIUS, 17.9375),
            Reading.of(Series.VOC_RAW, "", 30123)),
        List.of());
  }

  private static long sizeOf(Path folder) throws Exception {
    long size = 0;
    try (var files = Files.list(folder)) {
      for (Path file : files.toList()) {
        size += Files.size(file);
      }
    }
    return size;
  }
}
