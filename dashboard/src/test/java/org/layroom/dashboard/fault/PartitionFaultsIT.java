package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;

/** A cable that is out. */
@ExtendWith(Campaign.class)
class PartitionFaultsIT {
  private static final Duration PATIENCE = Duration.ofMinutes(2);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime pace = new RealTime();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  @Test
  @Fault(
      value = "device elsewhere (a network namespace of its own), its cable out and in",
      promised = "it measures on, and every sample is stored once when the cable is in")
  void partitioned(Witness witness) throws Exception {
    int partitions = witness.times(1, 10);
    Random random = witness.random();
    Paired paired = Paired.in(folder.resolve("data"));
    try (Cable partition = Partition.made(witness.random());
        DashboardCore core =
            DashboardCore.start(
                CoreSettings.embedded(folder.resolve("data"), partition.brokerAddress(), 0),
                pace,
                pace)) {
      Process device = partition.device(paired, core.brokerUri(), folder);
      try {
        long before = awaitMore(core, 0);
        for (int i = 0; i < partitions; i++) {
          partition.pullOut();
          long out = settled(core);
          LockSupport.parkNanos(Duration.ofMillis(3000 + random.nextInt(4000)).toNanos());
          assertEquals(out, stored(core), "nothing comes through");
          partition.plugIn();
          before = awaitMore(core, Math.max(before, stored(core)) + 100);
        }
        assertTrue(device.isAlive());
      } finally {
        device.destroy();
        device.onExit().join();
      }
      long mark = stored(core);
      List<Long> stored = core.store().archive().sequences(Ledger.CHANNEL, outbox(core));
      assertEquals(
          LongStream.rangeClosed(1, mark).boxed().toList(),
          stored.stream().filter(one -> one <= mark).sorted().toList());
      witness.saw("%d times out for 3 to 7 s, %d samples", partitions, mark);
      witness.saw("%s", partition.words());
    }
  }

  private static String outbox(DashboardCore core) {
    return core.store().marks().get(0).mark().outbox();
  }

  private static long stored(DashboardCore core) {
    return core.store().marks().stream().mapToLong(mark -> mark.mark().sequence()).max().orElse(0);
  }

  /** What is stored when all that was already on this side of the cable has been. */
  private static long settled(DashboardCore core) {
    long[] seen = {-1, System.nanoTime()};
    Until.within(
        PATIENCE,
        "nothing more comes for five seconds",
        () -> {
          if (stored(core) != seen[0]) {
            seen[0] = stored(core);
            seen[1] = System.nanoTime();
          }
          return System.nanoTime() - seen[1] > Duration.ofSeconds(5).toNanos();
        });
    return seen[0];
  }

  private static long awaitMore(DashboardCore core, long than) {
    Until.within(PATIENCE, "more is stored than " + than, () -> stored(core) > than);
    return stored(core);
  }
}
