package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.eclipse.paho.client.mqttv3.IMqttToken;
import org.eclipse.paho.client.mqttv3.MqttAsyncClient;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.Until;

/** The built-in broker. */
class ArtemisBrokerTest {
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir Path folder;

  /** A client that may do all. */
  private MqttClient client(Broker broker, String id, boolean clean) throws MqttException {
    MqttClient client = new MqttClient(broker.uri().toString(), id, new MemoryPersistence());
    MqttConnectOptions options = OutboxDevice.Login.dashboards(DeviceLogins.of(folder)).options();
    options.setCleanSession(clean);
    client.connect(options);
    return client;
  }

  private static void end(MqttClient client) throws MqttException {
    if (client.isConnected()) {
      client.disconnect();
    }
    client.close();
  }

  @Test
  void itListensOnLoopbackOnly() {
    try (Broker broker = new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      assertThrows(IllegalStateException.class, broker::uri);
      broker.start();
      assertEquals("127.0.0.1", broker.uri().getHost());
      assertTrue(broker.uri().getPort() > 0);
    }
  }

  @Test
  void aTakenPortIsSaidWithWhatToDo() throws IOException {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
        Broker broker =
            new ArtemisBroker(folder, "127.0.0.1", taken.getLocalPort(), DeviceLogins.of(folder))) {
      BrokerFailure failure = assertThrows(BrokerFailure.class, broker::start);
      assertTrue(String.valueOf(failure.getMessage()).contains("broker.port"));
    }
  }

  /** What it held is said again by both sides; so a card is not written. */
  @Test
  void itWritesNothingAndKeepsNothingOverItsEnd() throws MqttException, IOException {
    Path own = folder.resolve("own");
    ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
    try (Broker broker = new ArtemisBroker(own, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      broker.start();
      MqttClient sleeper = client(broker, "sleeper", false);
      sleeper.subscribe("layroom/+/+/readings", 1);
      end(sleeper);
      MqttClient speaker = client(broker, "speaker", true);
      speaker.publish("layroom/a/b/status", "first".getBytes(StandardCharsets.UTF_8), 1, true);
      speaker.publish("layroom/a/b/readings", new byte[500], 1, false);
      MqttClient listener = client(broker, "listener", true);
      listener.setCallback(new Hearing(heard));
      listener.subscribe("layroom/+/+/status", 1);
      Until.within(SOON, "what is retained is heard", () -> heard.contains("first"));
      end(listener);
      end(speaker);
    }
    assertFalse(Files.exists(own), "nothing on the disk");
    heard.clear();
    try (Broker broker = new ArtemisBroker(own, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      broker.start();
      MqttClient sleeper = client(broker, "sleeper", false);
      sleeper.setCallback(new Hearing(heard));
      sleeper.subscribe("layroom/+/+/status", 1);
      MqttClient speaker = client(broker, "speaker", true);
      speaker.publish("layroom/a/b/status", "second".getBytes(StandardCharsets.UTF_8), 1, true);
      Until.within(SOON, "the next is heard", () -> !heard.isEmpty());
      assertEquals("second", heard.peek());
      end(speaker);
      end(sleeper);
    }
  }

  /** As devices connect; a device's client library would hide a refusal by a second try. */
  @Test
  void aHundredDevicesThatConnectAtOneMomentAreAllLetInTheFirstTime() throws Exception {
    int many = 100;
    try (Broker broker = broker()) {
      broker.start();
      List<MqttAsyncClient> clients = new ArrayList<>();
      for (int i = 0; i < many; i++) {
        clients.add(
            new MqttAsyncClient(broker.uri().toString(), "device-" + i, new MemoryPersistence()));
      }
      MqttConnectOptions options = OutboxDevice.Login.dashboards(DeviceLogins.of(folder)).options();
      options.setMqttVersion(MqttConnectOptions.MQTT_VERSION_3_1_1);
      options.setWill("layroom/a/b/status", new byte[] {'{', '}'}, 1, true);
      List<IMqttToken> attempts = new ArrayList<>();
      for (MqttAsyncClient one : clients) {
        attempts.add(one.connect(options));
      }
      for (IMqttToken attempt : attempts) {
        attempt.waitForCompletion(SOON.toMillis());
      }
      assertEquals(many, clients.stream().filter(MqttAsyncClient::isConnected).count());
      for (MqttAsyncClient one : clients) {
        one.disconnectForcibly(0, 500, false);
        one.close(true);
      }
    }
  }

  @Test
  void aMessageOfMoreThan64KibibytesIsRefusedAndTheNextIsNot() throws MqttException {
    ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
    try (Broker broker = new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      broker.start();
      MqttClient listener = client(broker, "listener", true);
      listener.setCallback(new Hearing(heard));
      listener.subscribe("a", 1);
      MqttClient large = client(broker, "large", true);
      assertThrows(MqttException.class, () -> large.publish("a", new byte[65_537], 1, false));
      end(large);
      MqttClient small = client(broker, "small", true);
      small.publish("a", "next".getBytes(StandardCharsets.UTF_8), 1, false);
      Until.within(SOON, "the next is heard", () -> !heard.isEmpty());
      assertEquals("next", heard.peek());
      end(small);
      end(listener);
    }
  }

  private ArtemisBroker broker() {
    return new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder));
  }
}
