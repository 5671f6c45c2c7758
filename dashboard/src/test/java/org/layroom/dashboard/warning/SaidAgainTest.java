package org.layroom.dashboard.warning;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;

/** The broker inside keeps nothing over its end: the dashboard says again what it has retained. */
class SaidAgainTest {
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final Instant START = Instant.parse("2026-03-16T08:00:00Z");
  private static final byte[] NOTHING = {};
  private static final Channel BENCH = Channel.of("shop", "bench");

  @TempDir Path folder;
  private final RealTime transport = new RealTime();
  private final SteppedPace pace = new SteppedPace(START);

  @AfterEach
  void stopTime() {
    pace.close();
    transport.close();
  }

  private DashboardCore core() {
    return DashboardCore.start(CoreSettings.embedded(folder, 0), pace, transport);
  }

  /** A device without a vapor sensor, for which somebody decided a correction. */
  @Test
  void marksDecisionsAndWarningsAreSaidAgainAfterARestart() throws Exception {
    SensorOffset offset = new SensorOffset("temperature", -0.5, LocalDate.of(2026, 3, 16), "Kim");
    try (DashboardCore core = core();
        AirWarnings warnings = AirWarnings.start(core, pace, 1)) {
      core.store()
          .append(
              List.of(
                  new StoreEntry.Sample(
                      BENCH,
                      Optional.of(new OutboxPosition("box", 1)),
                      SampleTimes.asSaid(START, START),
                      List.of(Reading.of("temperature", "Cel", 20)),
                      List.of())));
      warnings.sensors().correct(BENCH, offset);
    }
    try (DashboardCore core = core();
        AirWarnings warnings = AirWarnings.start(core, pace, 1)) {
      assertEquals(List.of(offset), warnings.sensors().offsets(BENCH));
      Map<String, byte[]> heard = heard(core);
      assertEquals(
          List.of(offset),
          DeviceSettings.read(heard.getOrDefault(BENCH.topic(Topic.SETTINGS), NOTHING)).offsets());
      assertEquals(
          new StoredMark("box", 1),
          StoredMark.read(heard.getOrDefault(BENCH.topic(Topic.STORED), NOTHING)));
    }
  }

  private Map<String, byte[]> heard(DashboardCore core) throws MqttException {
    Map<String, byte[]> heard = new ConcurrentHashMap<>();
    MqttClient ear = new MqttClient(core.brokerUri().toString(), "ear", new MemoryPersistence());
    ear.connect(OutboxDevice.Login.dashboards(core.logins()).options());
    ear.subscribe("layroom/#", 1, (topic, message) -> heard.put(topic, message.getPayload()));
    Until.within(
        SOON,
        "all is said again",
        () -> {
          pace.advanceBy(Duration.ofSeconds(1));
          return heard
              .keySet()
              .containsAll(
                  List.of(
                      BENCH.topic(Topic.SETTINGS),
                      BENCH.topic(Topic.STORED),
                      Topic.warnings(BENCH.room()),
                      Topic.DASHBOARD));
        });
    ear.disconnect();
    ear.close();
    return heard;
  }
}
