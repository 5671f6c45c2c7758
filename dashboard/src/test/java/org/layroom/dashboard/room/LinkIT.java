package org.layroom.dashboard.room;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
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

  @AfterEach
  void stopTime() {
    pace.close();
  }

  private CoreSettings settings(String data, URI broker) {
    return CoreSettings.outside(folder.resolve(data), broker).withLinkTimes(QUICK);
  }

  @Test
  void aDeafConnectionIsNoticedRestartedAndCounted() throws Exception {
    try (ArtemisBroker broker =
        new ArtemisBroker(
            folder.resolve("broker"), "127.0.0.1", 0, DeviceLogins.of(folder.resolve("broker")))) {
      broker.start();
      try (SwallowingProxy proxy = new SwallowingProxy(broker.uri());
          DashboardCore core = DashboardCore.start(settings("a", proxy.uri()), pace, pace);
          OutboxDevice device =
              new OutboxDevice(broker::uri, CHANNEL, "box", Optional.empty()).start()) {
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
      try (ArtemisBroker broker =
          new ArtemisBroker(
              folder.resolve("broker"),
              "127.0.0.1",
              port,
              DeviceLogins.of(folder.resolve("broker")))) {
        broker.start();
        Until.within(SOON, "connected", () -> core.link().connected());
      }
      Until.within(SOON, "the loss is noticed", () -> !core.link().connected());
    }
  }

  @Test
  void aSecondDashboardOnTheSameBrokerIsNamed() {
    try (ArtemisBroker broker =
        new ArtemisBroker(
            folder.resolve("broker"), "127.0.0.1", 0, DeviceLogins.of(folder.resolve("broker")))) {
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
    try (ArtemisBroker broker =
        new ArtemisBroker(
            folder.resolve("broker"), "127.0.0.1", 0, DeviceLogins.of(folder.resolve("broker")))) {
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
      core.publish("layroom/shop/bench/alarm", new byte[] {'{', '}'}, true);
      try (ArtemisBroker broker =
          new ArtemisBroker(
              folder.resolve("broker"),
              "127.0.0.1",
              port,
              DeviceLogins.of(folder.resolve("broker")))) {
        broker.start();
        Until.within(SOON, "the message comes round", () -> !heard.isEmpty());
        assertEquals(CHANNEL + " ALARM", heard.peek());
      }
    }
  }
}
