package org.layroom.device.demo;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.pace.ScaledPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;

/** The demo's device over a real broker, from simulated chip to stored mark. */
class DemoDeviceTest {
  private static final Channel CHANNEL = Channel.of("garage", "bench");
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final Instant SATURDAY_EVENING = Instant.parse("2026-03-14T19:00:00Z");

  @TempDir Path folder;

  @Test
  void twoDaysOfPastAndThePresentAreStoredWithoutAGap() throws Exception {
    try (Mosquitto broker = Mosquitto.start(folder);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        ScaledPace pace = new ScaledPace(SATURDAY_EVENING, 60);
        DemoDevice device =
            DemoDevice.start(
                pace,
                new DemoConnection(
                    broker.uri(), CHANNEL, Optional.empty(), folder.resolve("outbox")),
                DemoStory.usual(ZoneOffset.UTC))) {
      assertTrue(
          dashboard.await(PATIENCE, () -> dashboard.samples().size() > 2890), "samples arrive");
      assertTrue(device.awaitStored(PATIENCE), "everything is stored");
      NavigableMap<Long, DeviceMessage.Sample> arrived = dashboard.samples();
      List<DeviceMessage.Sample> samples = List.copyOf(arrived.values());
      assertEquals(samples.size(), arrived.lastKey(), "no gap");
      assertEquals(List.of(), dashboard.refused());
      Instant first = samples.get(0).time().instant(Instant.EPOCH);
      assertTrue(
          first.isBefore(SATURDAY_EVENING.minus(Duration.ofHours(47))), "the past starts early");
    }
  }
}
