package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.LongStream;
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
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.ChildDashboard;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.telemetry.DeviceStatus;

/**
 * Disks that are full or take nothing: a small file system in memory that is filled to the last
 * byte (needs root), and a limit of zero on the size of files (RLIMIT_FSIZE), under which a running
 * program can write to no file at all, as on a card that the system has made read-only.
 */
@ExtendWith(Campaign.class)
@Timeout(1200)
class DiskFaultsIT {
  private static final Duration PATIENCE = Duration.ofMinutes(2);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime pace = new RealTime();
  private final Ledger ledger = new Ledger();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  /** A file system of its own in memory, filled and emptied by a ballast file. */
  private record SmallDisk(Path folder) implements AutoCloseable {
    static SmallDisk made(Path folder, int mebibytes) throws IOException, InterruptedException {
      Files.createDirectories(folder);
      Commands.canOrLeaveOut(
          "a small file system needs root",
          "mount",
          "-t",
          "tmpfs",
          "-o",
          "size=" + mebibytes + "m",
          "tmpfs",
          folder.toString());
      return new SmallDisk(folder);
    }

    private Path ballast() {
      return folder.resolve("ballast");
    }

    void fill() throws IOException {
      byte[] block = new byte[4096];
      try (OutputStream out = Files.newOutputStream(ballast())) {
        while (true) {
          out.write(block);
        }
      } catch (IOException e) {
        assertTrue(String.valueOf(e.getMessage()).contains("No space left"), e.getMessage());
      }
    }

    void empty() throws IOException {
      Files.delete(ballast());
    }

    @Override
    public void close() throws IOException, InterruptedException {
      Commands.must("umount", "-l", folder.toString());
    }
  }

  private void measureFor(OutboxDevice device, Duration time) {
    long end = System.nanoTime() + time.toNanos();
    while (System.nanoTime() - end < 0) {
      ledger.measure(device);
      LockSupport.parkNanos(2_000_000);
    }
  }

  private void awaitStored(OutboxDevice device) {
    Until.within(PATIENCE, "all is stored", () -> device.mark() == ledger.measured());
  }

  @Test
  @Fault(
      value = "disk of dashboard and broker full (tmpfs) and empty again",
      promised =
          "nothing is acknowledged that is not stored; goes on by itself; every reading once")
  void theDashboardsDiskIsFull(Witness witness) throws Exception {
    int fills = witness.times(1, 10);
    try (SmallDisk disk = SmallDisk.made(folder.resolve("disk").resolve("data"), 64)) {
      Path data = disk.folder();
      Paired paired = Paired.in(data);
      ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty());
      try (OutboxDevice device = paired.sending(child::broker)) {
        for (int i = 0; i < fills; i++) {
          measureFor(device, Duration.ofSeconds(1));
          awaitStored(device);
          disk.fill();
          measureFor(device, Duration.ofSeconds(5));
          disk.empty();
          measureFor(device, Duration.ofSeconds(1));
          awaitStored(device);
        }
        assertTrue(child.isAlive());
        witness.saw("%d times full for 5 s, %d readings", fills, ledger.measured());
      } finally {
        child.kill();
      }
      ledger.assertKeptOnce(data);
    }
  }

  @Test
  @Fault(
      value = "the dashboard may write to no file (RLIMIT_FSIZE 0), and again",
      promised =
          "nothing is acknowledged that is not stored; goes on by itself; every reading once")
  void theDashboardMayNotWrite(Witness witness) throws Exception {
    int times = witness.times(1, 10);
    Path data = Files.createDirectories(folder.resolve("data"));
    Paired paired = Paired.in(data);
    try (ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty())) {
      Commands.canOrLeaveOut("prlimit is needed", limit(child.pid(), "unlimited"));
      try (OutboxDevice device = paired.sending(child::broker)) {
        for (int i = 0; i < times; i++) {
          measureFor(device, Duration.ofSeconds(1));
          awaitStored(device);
          Commands.must(limit(child.pid(), "0"));
          measureFor(device, Duration.ofSeconds(5));
          Commands.must(limit(child.pid(), "unlimited"));
          measureFor(device, Duration.ofSeconds(1));
          awaitStored(device);
        }
        assertTrue(child.isAlive());
        witness.saw("%d times for 5 s, %d readings", times, ledger.measured());
      }
    }
    ledger.assertKeptOnce(data);
  }

  private static String[] limit(long pid, String bytes) {
    return new String[] {"prlimit", "--pid", "" + pid, "--fsize=" + bytes + ":unlimited"};
  }

  @Test
  @Fault(
      value = "data folder of the dashboard read-only at its start",
      promised = "it says so and ends; what was stored is unharmed")
  void theDashboardsFolderIsReadOnly(Witness witness) throws Exception {
    try (SmallDisk disk = SmallDisk.made(folder.resolve("disk").resolve("data"), 64)) {
      Path data = disk.folder();
      Paired paired = Paired.in(data);
      try (ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty());
          OutboxDevice device = paired.sending(child::broker)) {
        measureFor(device, Duration.ofSeconds(1));
        awaitStored(device);
      }
      Commands.must("mount", "-o", "remount,ro", disk.folder().toString());
      StoreFailure said = assertThrows(StoreFailure.class, () -> StoreFolder.open(data).close());
      String words = String.valueOf(said.getMessage());
      assertTrue(words.contains("may write there"), words);
      Commands.must("mount", "-o", "remount,rw", disk.folder().toString());
      ledger.assertKeptOnce(data);
      witness.saw("\"%s\"", words.replace(data.toString(), "…"));
    }
  }

  @Test
  @Fault(
      value = "disk of the device full (tmpfs) and empty again",
      promised = "it measures and sends on; no number twice, no gap among what is numbered")
  void theDevicesDiskIsFull(Witness witness) throws Exception {
    try (SmallDisk disk = SmallDisk.made(folder.resolve("disk"), 2)) {
      deviceMayNotWrite(witness, disk.folder(), disk::fill, disk::empty);
    }
  }

  @Test
  @Fault(
      value = "the device may write to no file (RLIMIT_FSIZE 0), and again",
      promised = "it measures and sends on; no number twice, no gap among what is numbered")
  void theDeviceMayNotWrite(Witness witness) throws Exception {
    Path data = Files.createDirectories(folder.resolve("device"));
    deviceMayNotWrite(
        witness,
        data,
        () -> Commands.must(limit(devicePid, "0")),
        () -> Commands.must(limit(devicePid, "unlimited")));
  }

  @Test
  @Fault(
      value = "data folder of the device read-only at its start",
      promised = "it measures, sends and watches the air, and says what is lost with a restart")
  void theDevicesFolderIsReadOnly(Witness witness) throws Exception {
    Path data = Files.createDirectories(folder.resolve("data"));
    Paired paired = Paired.in(data);
    try (SmallDisk disk = SmallDisk.made(folder.resolve("disk"), 2);
        DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, 0), pace, pace)) {
      Commands.must("mount", "-o", "remount,ro", disk.folder().toString());
      try (ShippedJars.Running device = device(paired, core.brokerUri(), disk.folder())) {
        Until.within(
            PATIENCE,
            "samples are stored",
            () -> core.store().marks().stream().anyMatch(mark -> mark.mark().sequence() > 100));
        Until.within(
            PATIENCE, "it says so", () -> outboxFault(core).contains("lost at the next restart"));
        assertTrue(device.process().isAlive());
        witness.saw("\"%s\"", outboxFault(core).replace(disk.folder().toString(), "…"));
      }
    }
  }

  private static String outboxFault(DashboardCore core) {
    return core.snapshot(Ledger.CHANNEL.room()).devices().stream()
        .flatMap(device -> device.said().stream())
        .flatMap(said -> said.status().faults().stream())
        .filter(fault -> fault.part().equals("outbox"))
        .map(DeviceStatus.PartFault::reason)
        .findFirst()
        .orElse("");
  }

  /** Something that is done to a disk. */
  private interface Deed {
    void now() throws IOException, InterruptedException;
  }

  private long devicePid;

  private void deviceMayNotWrite(Witness witness, Path deviceData, Deed full, Deed empty)
      throws Exception {
    int times = witness.times(1, 10);
    Path data = Files.createDirectories(folder.resolve("data"));
    Paired paired = Paired.in(data);
    try (ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty())) {
      try (ShippedJars.Running device = device(paired, child.broker(), deviceData)) {
        devicePid = device.process().pid();
        for (int i = 0; i < times; i++) {
          LockSupport.parkNanos(Duration.ofSeconds(2).toNanos());
          full.now();
          LockSupport.parkNanos(Duration.ofSeconds(3).toNanos());
          empty.now();
          LockSupport.parkNanos(Duration.ofSeconds(2).toNanos());
        }
        assertTrue(device.process().isAlive());
      }
      child.kill();
    }
    try (Outbox outbox =
            Outbox.open(
                deviceData.resolve("outbox"), OutboxOptions.standard(Duration.ofSeconds(1)));
        Store store = StoreFolder.open(data)) {
      List<Long> stored = store.archive().sequences(Ledger.CHANNEL, outbox.name());
      long upTo = store.marks().stream().mapToLong(mark -> mark.mark().sequence()).max().orElse(0);
      assertEquals(
          LongStream.rangeClosed(1, upTo).boxed().toList(),
          stored.stream().filter(one -> one <= upTo).sorted().toList());
      assertEquals(
          LongStream.rangeClosed(upTo + 1, outbox.last()).boxed().toList(),
          outbox.read(upTo + 1, Integer.MAX_VALUE).stream()
              .map(OutboxSample::sequence)
              .filter(one -> one > upTo)
              .toList());
      long[] unnumbered = {0};
      store
          .archive()
          .export(
              Ledger.CHANNEL.room(),
              Instant.EPOCH,
              Instant.now().plus(Duration.ofDays(300)),
              sample -> unnumbered[0] += sample.position().isEmpty() ? 1 : 0);
      assertTrue(unnumbered[0] > 0, "what could not be kept on disk was sent at once");
      witness.saw("%d times for 3 s, %d samples numbered", times, outbox.last());
      witness.saw("%d sent without having been on disk", unnumbered[0]);
    }
  }

  private ShippedJars.Running device(Paired paired, URI broker, Path data) throws IOException {
    Path config = paired.settings(folder, broker, data, "sample-seconds=1\nspeed=50\n");
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        config.toString());
  }
}
