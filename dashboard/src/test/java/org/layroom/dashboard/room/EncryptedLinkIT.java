package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.ingest.Rejection;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;
import org.layroom.testing.TestAuthority;

/** The dashboard at a real mosquitto that takes encrypted connections only. */
class EncryptedLinkIT {
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir Path folder = Path.of("");

  private final RealTime pace = new RealTime();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  private static int freePort() throws IOException {
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return free.getLocalPort();
    }
  }

  private static URI encrypted(Mosquitto broker) {
    return URI.create("ssl://127.0.0.1:" + broker.uri().getPort());
  }

  private Mosquitto broker(TestAuthority shown, int plainPort) throws IOException {
    Mosquitto broker =
        Mosquitto.prepareWith(
            folder,
            "allow_anonymous true\ncertfile %s\nkeyfile %s\nlistener %d 127.0.0.1\n"
                .formatted(shown.certificate(), shown.key(), plainPort));
    broker.start();
    return broker;
  }

  /** An oversized message is counted on an encrypted connection too, and the next one is taken. */
  @Test
  void readingsComeInOverAnEncryptedConnectionAndTooMuchIsCut() throws Exception {
    Mosquitto.required();
    TestAuthority house = TestAuthority.make(folder, "house", "ip:127.0.0.1");
    int plain = freePort();
    try (Mosquitto broker = broker(house, plain);
        DashboardCore core =
            DashboardCore.start(
                CoreSettings.outside(folder.resolve("data"), encrypted(broker))
                    .withAuthority(house.authority()),
                pace,
                pace);
        OutboxDevice device =
            new OutboxDevice(
                    () -> URI.create("tcp://127.0.0.1:" + plain), CHANNEL, "box", Mosquitto.LOGIN)
                .start()) {
      device.measure(Instant.now(), 20);
      Until.stored(SOON, "the first reading is stored", core, () -> device.mark() == 1);
      Path large = Files.writeString(folder.resolve("large"), "x".repeat(2_000_000));
      String[] from = {"-p", "" + plain, "-f", large.toString()};
      assertEquals(0, broker.publish(CHANNEL.topic(Topic.READINGS), "", from));
      device.measure(Instant.now(), 21);
      Until.stored(SOON, "the next is stored", core, () -> device.mark() == 2);
      Until.within(
          SOON, "the large one is counted", () -> core.counts().refused(Rejection.OVERSIZED) == 1);
      assertEquals(1, core.link().connects(), "on one and the same connection");
    }
  }

  @Test
  void aBrokerOfAnotherAuthorityOrNameIsNotBelievedAndItSaysWhatToChange() throws Exception {
    Mosquitto.required();
    TestAuthority house = TestAuthority.make(folder, "house", "dns:elsewhere.example");
    TestAuthority another = TestAuthority.make(folder, "another", "ip:127.0.0.1");
    try (Mosquitto broker = broker(house, freePort())) {
      for (Case one :
          new Case[] {
            new Case("a", another, "copy the certificate of the broker's authority"),
            new Case("b", house, "not valid for the name \"127.0.0.1\"")
          }) {
        try (DashboardCore core =
            DashboardCore.start(
                CoreSettings.outside(folder.resolve(one.data()), encrypted(broker))
                    .withAuthority(one.believed().authority()),
                pace,
                pace)) {
          Until.within(
              SOON, one.words(), () -> core.link().trouble().orElse("").contains(one.words()));
          assertFalse(core.link().connected());
          assertTrue(!core.link().trouble().orElse("").contains("Exception"));
        }
      }
    }
  }

  private record Case(String data, TestAuthority believed, String words) {}
}
