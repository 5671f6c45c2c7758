package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.ingest.Rejection;
import org.layroom.dashboard.testing.ChildDashboard;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/** The dashboard on a shop's own broker, with a second, independent MQTT client speaking to it. */
class MosquittoIT {
  private static final RoomName ROOM = RoomName.of("shop");
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime pace = new RealTime();

  @BeforeEach
  void needsMosquitto() {
    Mosquitto.required();
  }

  @AfterEach
  void stopTime() {
    pace.close();
  }

  private Mosquitto mosquitto(boolean limited) throws IOException, InterruptedException {
    Mosquitto mosquitto =
        Mosquitto.prepare(Files.createDirectories(folder.resolve("mosquitto")), limited);
    mosquitto.start();
    return mosquitto;
  }

  private CoreSettings settings(Mosquitto mosquitto) throws IOException {
    return CoreSettings.outside(folder.resolve("data"), mosquitto.uri())
        .withLogin(Mosquitto.USER, mosquitto.passwordFile());
  }

  @Test
  void anotherProgramsReadingsAreStoredAndItsNonsenseIsCounted() throws Exception {
    try (Mosquitto mosquitto = mosquitto(false)) {
      mosquitto.publish("layroom/shop/thermostat/status", "{\"state\":\"online\"}", "-r");
      nonsenseIsCounted(mosquitto);
    }
  }

  private void nonsenseIsCounted(Mosquitto mosquitto) throws Exception {
    try (DashboardCore core = DashboardCore.start(settings(mosquitto), pace, pace)) {
      Until.within(
          SOON, "it listens: what the broker kept has come", () -> core.counts().messages() == 1);
      long now = Instant.now().getEpochSecond();
      String topic = "layroom/shop/thermostat/readings";
      mosquitto.publish(
          topic,
          "[{\"bn\":\"layroom/shop/thermostat/\",\"bt\":"
              + now
              + ",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":18.5},"
              + "{\"n\":\"humidity\",\"u\":\"%RH\",\"v\":61},"
              + "{\"n\":\"temperature\",\"u\":\"Cel\",\"t\":-10,\"v\":18.4}]");
      mosquitto.publish(topic, "18.5");
      mosquitto.publish(topic, "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"temperature\",\"v\":1}]");
      mosquitto.publish("layroom/Shop/thermostat/readings", "[]");
      mosquitto.publish(topic, "", "-f", file(70_000).toString());
      mosquitto.publish(topic, "", "-n");
      Until.within(SOON, "all messages came", () -> core.counts().messages() == 7);
      Until.within(SOON, "the two readings are stored", () -> core.counts().samples() == 2);
      Until.within(
          SOON, "two are malformed", () -> core.counts().refused(Rejection.MALFORMED) == 2);
      assertEquals(1, core.counts().refused(Rejection.SPOOFED));
      assertEquals(1, core.counts().refused(Rejection.UNKNOWN_TOPIC));
      assertEquals(1, core.counts().refused(Rejection.OVERSIZED));
      RoomSnapshot snapshot = core.snapshot(ROOM);
      assertEquals(
          18.5, snapshot.value("temperature").orElseThrow().reading().value().orElseThrow());
      assertEquals(1, snapshot.devices().size());
      assertEquals(
          2,
          core.store()
              .history()
              .countReadings(
                  ROOM, Instant.ofEpochSecond(now - 60), Instant.ofEpochSecond(now + 60)));
      assertTrue(core.link().connected());
    }
  }

  @Test
  void aWrongPasswordIsSaidInWords() throws Exception {
    try (Mosquitto mosquitto = mosquitto(true)) {
      Path wrong = Files.writeString(folder.resolve("wrong.txt"), "guess\n");
      CoreSettings settings =
          CoreSettings.outside(folder.resolve("data"), mosquitto.uri())
              .withLogin(Mosquitto.USER, wrong);
      try (DashboardCore core = DashboardCore.start(settings, pace, pace)) {
        Until.within(
            SOON,
            "the refusal is named",
            () -> core.link().trouble().orElse("").contains("broker.password-file"));
      }
    }
  }

  private Path file(long bytes) throws IOException {
    Path file = folder.resolve("large-" + bytes);
    try (RandomAccessFile large = new RandomAccessFile(file.toFile(), "rw")) {
      large.setLength(bytes);
    }
    return file;
  }

  @Test
  void aMessageOf100MegabytesDoesNotStopADashboardWith48MegabytesOfHeap() throws Exception {
    Path data = Files.createDirectories(folder.resolve("data"));
    try (Mosquitto mosquitto = mosquitto(false);
        ChildDashboard child = ChildDashboard.start(data, 48, Optional.of(mosquitto));
        OutboxDevice device =
            new OutboxDevice(mosquitto::uri, BENCH, "box", Mosquitto.LOGIN).start()) {
      device.measure(Instant.now(), 20);
      Until.within(SOON, "the first reading is stored", () -> device.mark() == 1);
      Path large = file(100_000_000);
      assertEquals(
          0, mosquitto.publish("layroom/shop/thermostat/readings", "", "-f", large.toString()));
      device.measure(Instant.now(), 21);
      Until.within(SOON, "the second reading is stored", () -> device.mark() == 2);
      assertTrue(child.isAlive());
    }
  }
}
