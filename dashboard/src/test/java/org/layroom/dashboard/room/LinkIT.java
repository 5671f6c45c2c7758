package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.function.Supplier;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.broker.ArtemisBroker;
import org.layroom.dashboard.mqtt.LinkTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.SwallowingProxy;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;
import org.layroom.testing.Seed;

/** What the link does when its broker is late, deaf, or has another dashboard on it. */
class LinkIT {
  private static final Channel CHANNEL = Channel.of("shop", "bench");
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final LinkTimes QUICK =
      new LinkTimes(
          Duration.ofSeconds(60),
          Duration.ofMillis(500),
          Duration.ofSeconds(2),
          Duration.ofSeconds(10),
          Duration.ofMillis(100),
          Duration.ofSeconds(5));

  @TempDir Path folder;
  private final RealTime pace = new RealTime();

  private Optional<OutboxDevice.Login> login = Optional.empty();

  @BeforeEach
  void pair() {
    login = Optional.of(OutboxDevice.Login.of(logins(), CHANNEL));
  }

  @AfterEach
  void stopTime() {
    pace.close();
  }

  private DeviceLogins logins() {
    return DeviceLogins.of(folder.resolve("broker"));
  }

  private ArtemisBroker broker(int port) {
    return new ArtemisBroker(folder.resolve("broker"), "127.0.0.1", port, logins());
  }

  private CoreSettings settings(String data, URI broker) {
    return CoreSettings.outside(folder.resolve(data), broker)
        .withLogin(BrokerClient.Dashboard.USER, logins().ownPasswordFile())
        .withLinkTimes(QUICK);
  }

  /** A device that was paired before the broker came. */
  private OutboxDevice device(Supplier<URI> broker) {
    return new OutboxDevice(broker, CHANNEL, "box", login.orElseThrow());
  }

  @Test
  void aDeafConnectionIsNoticedRestartedAndCounted() throws Exception {
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      try (SwallowingProxy proxy = new SwallowingProxy(broker.uri());
          DashboardCore core = DashboardCore.start(settings("a", proxy.uri()), pace, pace);
          OutboxDevice device = device(broker::uri).start()) {
        device.measure(Instant.now(), 20);
        Until.stored(SOON, "the first reading is stored", core, () -> device.mark() == 1);
        proxy.deafen();
        device.measure(Instant.now(), 21);
        Until.stored(SOON, "the second reading is stored", core, () -> device.mark() == 2);
        assertTrue(core.link().deafRestarts() >= 1);
        assertTrue(core.link().connected());
      }
    }
  }

  /**
   * Deafness would be noticed after ten minutes only: the end of the receiver is told by itself.
   */
  private static final LinkTimes HARDLY_EVER_DEAF =
      new LinkTimes(
          Duration.ofSeconds(60),
          Duration.ofMillis(500),
          Duration.ofMinutes(10),
          Duration.ofSeconds(10),
          Duration.ofMillis(100),
          Duration.ofSeconds(1));

  /** Packets that a client must not be sent, by MQTT 3.1.1: the section is beside each. */
  static List<byte[]> poison() {
    return List.of(
        new byte[] {0x36, 7, 0, 3, 'a', '/', 'b', 0, 1}, // quality of service 3: 3.3.1.2
        new byte[] {0x32, 4, 0, 9, 'a', 'b'}, // a topic longer than its message: 3.3.2
        new byte[] {(byte) 0xf0, 0}, // reserved: 2.2.1
        new byte[] {0, 0}, // reserved: 2.2.1
        new byte[] {0x10, 2, 0, 4}, // CONNECT: 3.1
        new byte[] {0x40, 0}, // PUBACK without its id: 3.4.2
        new byte[] {(byte) 0x90, 1, 0}, // SUBACK cut short: 3.9
        new byte[] {(byte) 0x90, (byte) 0xff, (byte) 0xff, (byte) 0xff, 0x7f}, // 256 MB: 3.9
        new byte[] {(byte) 0xd0, (byte) 0x80, (byte) 0x80, (byte) 0x80, (byte) 0x80, 1}); // 2.2.3
  }

  @Test
  void aReceiverThatCannotReadOnIsABrokenLinkThatIsOpenedAnew() throws Exception {
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      try (SwallowingProxy proxy = new SwallowingProxy(broker.uri());
          DashboardCore core =
              DashboardCore.start(
                  settings("a", proxy.uri()).withLinkTimes(HARDLY_EVER_DEAF), pace, pace);
          OutboxDevice device = device(broker::uri).start()) {
        Until.within(SOON, "connected", () -> core.link().connected());
        for (byte[] one : poison()) {
          long before = core.link().connects();
          proxy.inject(one);
          Until.within(
              SOON,
              "it connects again after " + Arrays.toString(one),
              () -> core.link().connects() > before && core.link().connected());
        }
        assertEquals(0, core.link().deafRestarts(), "it did not wait to be deaf");
        long sequence = device.measure(Instant.now(), 20);
        Until.stored(SOON, "a reading is stored", core, () -> device.mark() == sequence);
      }
    }
  }

  /** Whatever is said, in the end the link hears again; deafness is noticed where it must be. */
  @Test
  void noRandomBytesEndTheReceiverForGood() throws Exception {
    Random random = new Random(Seed.value());
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      try (SwallowingProxy proxy = new SwallowingProxy(broker.uri());
          DashboardCore core = DashboardCore.start(settings("a", proxy.uri()), pace, pace);
          OutboxDevice device = device(broker::uri).start()) {
        for (int i = 0; i < 20; i++) {
          Until.within(SOON, "connected", () -> core.link().connected());
          byte[] bytes = new byte[1 + random.nextInt(200)];
          random.nextBytes(bytes);
          bytes[0] = random.nextBoolean() ? bytes[0] : (byte) (0x30 | (bytes[0] & 0x0f));
          proxy.inject(bytes);
        }
        long sequence = device.measure(Instant.now(), 20);
        Until.stored(SOON, "a reading is stored", core, () -> device.mark() == sequence);
      }
    }
  }

  /** [MQTT-3.3.1-8]: what was kept from before comes with the retain flag. */
  @Test
  void readingsThatSomebodyLeftAtTheBrokerAreNotBelieved() throws Exception {
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      MqttClient forger =
          new MqttClient(broker.uri().toString(), "forger", new MemoryPersistence());
      forger.connect(OutboxDevice.Login.dashboards(logins()).options());
      byte[] warm =
          "[{\"bn\":\"layroom/shop/bench/\",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":24}]"
              .getBytes(StandardCharsets.UTF_8);
      forger.publish(CHANNEL.topic(Topic.READINGS), warm, 1, true);
      try (DashboardCore core = DashboardCore.start(settings("a", broker.uri()), pace, pace)) {
        Until.within(SOON, "it is counted", () -> core.counts().toString().contains("RETAINED=1"));
        assertEquals(0, core.counts().samples());
        forger.publish(CHANNEL.topic(Topic.READINGS), warm, 1, false);
        Until.within(SOON, "said now it is", () -> core.counts().samples() == 1);
      } finally {
        forger.disconnect();
        forger.close();
      }
    }
  }

  @Test
  void aBrokerThatComesLateIsWaitedFor() throws Exception {
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    URI uri = URI.create("tcp://127.0.0.1:" + port);
    try (DashboardCore core = DashboardCore.start(settings("a", uri), pace, pace)) {
      Until.within(
          SOON,
          "the dashboard says that nobody answers",
          () -> core.link().trouble().orElse("").contains("no answer at " + uri));
      try (ArtemisBroker broker = broker(port)) {
        broker.start();
        Until.within(SOON, "connected", () -> core.link().connected());
      }
      Until.within(SOON, "the loss is noticed", () -> !core.link().connected());
    }
  }

  @Test
  void aSecondDashboardOnTheSameBrokerIsNamed() {
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      try (DashboardCore one = DashboardCore.start(settings("a", broker.uri()), pace, pace);
          DashboardCore two = DashboardCore.start(settings("b", broker.uri()), pace, pace)) {
        for (DashboardCore core : List.of(one, two)) {
          Until.within(
              SOON,
              "another dashboard is named",
              () -> core.link().trouble().orElse("").contains("another dashboard"));
        }
      }
    }
  }

  @Test
  void twoDashboardsFromOneCopiedFolderDoNotFightForEver() {
    try (Store store = StoreFolder.open(folder.resolve("a"))) {
      store.events().set("client-id", "layroom-copied");
    }
    try (Store store = StoreFolder.open(folder.resolve("b"))) {
      store.events().set("client-id", "layroom-copied");
    }
    try (ArtemisBroker broker = broker(0)) {
      broker.start();
      try (DashboardCore one = DashboardCore.start(settings("a", broker.uri()), pace, pace);
          DashboardCore two = DashboardCore.start(settings("b", broker.uri()), pace, pace)) {
        Until.within(
            SOON,
            "one gives way and says why",
            () ->
                (one.link().trouble() + " " + two.link().trouble())
                    .contains("second dashboard running from a copy"));
        assertTrue(one.link().connects() + two.link().connects() < 50);
      }
    }
  }

  @Test
  void whatIsPublishedWhileThereIsNoConnectionIsSentLater() throws Exception {
    int port;
    try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    URI uri = URI.create("tcp://127.0.0.1:" + port);
    ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
    try (DashboardCore core = DashboardCore.start(settings("a", uri), pace, pace)) {
      core.addListener(
          new RoomListener() {
            @Override
            public void said(Channel channel, Topic kind, byte[] body) {
              heard.add(channel + " " + kind);
            }
          });
      core.publish(
          "layroom/shop/bench/alarm", "{\"state\":\"ok\"}".getBytes(StandardCharsets.UTF_8), true);
      try (ArtemisBroker broker = broker(port)) {
        broker.start();
        Until.within(SOON, "the message comes round", () -> !heard.isEmpty());
        assertEquals(CHANNEL + " ALARM", heard.peek());
      }
    }
  }
}
