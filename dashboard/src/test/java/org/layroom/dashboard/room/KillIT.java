package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.testing.ChildDashboard;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.StoredMark;
import org.tinylog.Logger;

/**
 * Kill it, ten times over: whatever dies, and whenever, every reading is in the store exactly once
 * and in order. The moments are random; the seed is logged and can be given with {@code
 * -Dlayroom.seed}.
 */
@Timeout(180)
class KillIT {
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final String OUTBOX = "box-1";
  private static final int KILLS = 10;
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private final Instant first = Instant.now().minusSeconds(60);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private volatile URI broker = URI.create("tcp://127.0.0.1:1");
  private long measured;

  private static Random random(String what) {
    long seed = Long.getLong("layroom.seed", System.nanoTime());
    Logger.info("{}: seed {}", what, seed);
    return new Random(seed);
  }

  /** Measures for a random while, a reading every two milliseconds or so. */
  private void measureForAWhile(OutboxDevice device, Random random) {
    long end = System.nanoTime() + Duration.ofMillis(100 + random.nextInt(1500)).toNanos();
    while (System.nanoTime() - end < 0) {
      measured = device.measure(first.plusMillis(measured + 1), 20 + random.nextInt(100) / 10.0);
      LockSupport.parkNanos(Duration.ofMillis(2).toNanos());
    }
  }

  @Test
  void theDashboardWithItsBrokerIsKilledTenTimesAndEveryReadingIsKeptOnce() throws Exception {
    Random random = random("dashboard with its broker");
    Path data = Files.createDirectories(folder.resolve("data"));
    ChildDashboard child = ChildDashboard.start(data, 96, Optional.empty());
    broker = child.broker();
    try (OutboxDevice device =
        new OutboxDevice(() -> broker, CHANNEL, OUTBOX, Optional.empty()).start()) {
      for (int kill = 0; kill < KILLS; kill++) {
        measureForAWhile(device, random);
        child.kill();
        measureForAWhile(device, random);
        child = ChildDashboard.start(data, 96, Optional.empty());
        broker = child.broker();
      }
      Until.within(PATIENCE, "all is stored", () -> device.mark() == measured);
      Logger.info("{} readings, {} sent again", measured, device.resent());
    } finally {
      child.kill();
    }
    assertStoredOnceAndInOrder(data);
  }

  @Test
  void anOutsideBrokerAndTheDashboardAreKilledInTurnAndEveryReadingIsKeptOnce() throws Exception {
    Mosquitto.required();
    Random random = random("outside broker and dashboard");
    Path data = Files.createDirectories(folder.resolve("data"));
    Path brokerFolder = Files.createDirectories(folder.resolve("mosquitto"));
    try (Mosquitto mosquitto = Mosquitto.prepare(brokerFolder, true)) {
      mosquitto.start();
      ChildDashboard child = ChildDashboard.start(data, 96, Optional.of(mosquitto));
      try (OutboxDevice device =
          new OutboxDevice(mosquitto::uri, CHANNEL, OUTBOX, Optional.of(Mosquitto.USER)).start()) {
        for (int kill = 0; kill < KILLS; kill++) {
          measureForAWhile(device, random);
          if (random.nextBoolean()) {
            mosquitto.kill();
            measureForAWhile(device, random);
            mosquitto.start();
          } else {
            child.kill();
            measureForAWhile(device, random);
            child = ChildDashboard.start(data, 96, Optional.of(mosquitto));
          }
        }
        Until.within(PATIENCE, "all is stored", () -> device.mark() == measured);
        Logger.info("{} readings, {} sent again", measured, device.resent());
      } finally {
        child.kill();
      }
    }
    assertStoredOnceAndInOrder(data);
  }

  private void assertStoredOnceAndInOrder(Path data) {
    try (Store store = Store.open(data)) {
      assertEquals(
          LongStream.rangeClosed(1, measured).boxed().toList(),
          store.archive().sequences(CHANNEL, OUTBOX));
      assertEquals(
          List.of(new OutboxMark(CHANNEL, new StoredMark(OUTBOX, measured))), store.marks());
      long rolledUp =
          store
              .history()
              .between(
                  CHANNEL.room(),
                  "temperature",
                  first.minus(Duration.ofDays(30)),
                  first.plus(Duration.ofDays(1)),
                  10)
              .buckets()
              .stream()
              .mapToLong(bucket -> bucket.n())
              .sum();
      assertEquals(measured, rolledUp, "roll-ups count every reading once");
    }
  }
}
