package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.SeriesHistory;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/** Readings from a device through the broker inside the dashboard to the page's answers. */
class WholePathIT {
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final RoomName ROOM = CHANNEL.room();
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir Path data;
  private final RealTime pace = new RealTime();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  @Test
  void readingsAreStoredMarkedAndShownAndStillThereAfterARestart() {
    Instant now = Instant.now();
    try (DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, 0), pace, pace);
        OutboxDevice device =
            new OutboxDevice(
                core::brokerUri, CHANNEL, "box", OutboxDevice.Login.of(core.logins(), CHANNEL))) {
      for (int i = 1; i <= 100; i++) {
        device.measure(now.minusSeconds(100 - i), 20 + i / 100.0);
      }
      device.start();
      Until.stored(SOON, "all is stored", core, () -> device.mark() == 100);
      Until.within(SOON, "dashboard is online", () -> device.dashboard().contains("online"));
      SeriesHistory history =
          core.store()
              .history()
              .between(ROOM, "temperature", now.minusSeconds(200), now.plusSeconds(1), 10);
      assertEquals(100, history.buckets().stream().mapToLong(bucket -> bucket.n()).sum());
      assertTrue(core.snapshot(ROOM).linked());
      assertEquals(21.0, newest(core));
    }
    try (DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, 0), pace, pace)) {
      assertEquals(21.0, newest(core));
      assertEquals(
          LongStream.rangeClosed(1, 100).boxed().toList(),
          core.store().archive().sequences(CHANNEL, "box"));
    }
  }

  private static double newest(DashboardCore core) {
    return core.snapshot(ROOM)
        .fresh("temperature", Duration.ofMinutes(1))
        .orElseThrow()
        .reading()
        .value()
        .orElseThrow();
  }
}
