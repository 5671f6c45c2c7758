package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
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
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.stream.Stream;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.Until;

/** The built-in broker. */
class ArtemisBrokerTest {
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir Path folder;

  private static MqttClient client(Broker broker, String id, boolean clean) throws MqttException {
    MqttClient client = new MqttClient(broker.uri().toString(), id, new MemoryPersistence());
    MqttConnectOptions options = new MqttConnectOptions();
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

  @Test
  void retainedMessagesAndSessionsOutliveTheBroker() throws MqttException {
    ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
    try (Broker broker = new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      broker.start();
      MqttClient sleeper = client(broker, "sleeper", false);
      sleeper.subscribe("layroom/+/+/readings", 1);
      end(sleeper);
      MqttClient speaker = client(broker, "speaker", true);
      speaker.publish(
          "layroom/a/b/readings", "while away".getBytes(StandardCharsets.UTF_8), 1, false);
      speaker.publish("layroom/a/b/status", "kept".getBytes(StandardCharsets.UTF_8), 1, true);
      end(speaker);
    }
    try (Broker broker = new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder))) {
      broker.start();
      MqttClient sleeper =
          new MqttClient(broker.uri().toString(), "sleeper", new MemoryPersistence());
      sleeper.setCallback(new Hearing(heard));
      MqttConnectOptions options = new MqttConnectOptions();
      options.setCleanSession(false);
      sleeper.connect(options);
      sleeper.subscribe("layroom/+/+/status", 1);
      Until.within(
          SOON, "both are heard", () -> heard.contains("while away") && heard.contains("kept"));
      end(sleeper);
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
    return new ArtemisBroker(folder, "127.0.0.1", 0, DeviceLogins.of(folder.resolve("logins")));
  }

  /** A broker that has held a session, a retained message and messages that nobody took. */
  private void fill() throws MqttException {
    try (Broker broker = broker()) {
      broker.start();
      MqttClient sleeper = client(broker, "sleeper", false);
      sleeper.subscribe("layroom/+/+/readings", 1);
      end(sleeper);
      MqttClient speaker = client(broker, "speaker", true);
      for (int i = 0; i < 20; i++) {
        speaker.publish("layroom/a/b/readings", new byte[500], 1, false);
      }
      speaker.publish("layroom/a/b/status", "kept".getBytes(StandardCharsets.UTF_8), 1, true);
      end(speaker);
    }
  }

  private static void assertPassesOn(Broker broker) throws MqttException {
    ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
    MqttClient listener = client(broker, "listener", true);
    listener.setCallback(new Hearing(heard));
    listener.subscribe("a", 1);
    MqttClient speaker = client(broker, "speaker", true);
    speaker.publish("a", "passed on".getBytes(StandardCharsets.UTF_8), 1, false);
    Until.within(SOON, "it is passed on", () -> heard.contains("passed on"));
    end(speaker);
    end(listener);
  }

  private List<Path> files(String... folders) throws IOException {
    List<Path> files = new ArrayList<>();
    for (String one : folders) {
      try (Stream<Path> in = Files.list(folder.resolve(one))) {
        in.filter(Files::isRegularFile).sorted().forEach(files::add);
      }
    }
    return files;
  }

  private List<Path> setAside() throws IOException {
    try (Stream<Path> in = Files.list(folder)) {
      return in.filter(one -> String.valueOf(one.getFileName()).startsWith("damaged")).toList();
    }
  }

  /** Files are made ahead of their use: a power cut leaves one of them without its header. */
  @Test
  void aJournalThatCannotBeReadIsSetAsideAndABeginningMade() throws Exception {
    fill();
    List<Path> journal =
        files("journal").stream().filter(one -> one.toString().endsWith(".amq")).toList();
    Path last = journal.get(journal.size() - 1);
    byte[] bytes = Files.readAllBytes(last);
    Arrays.fill(bytes, 0, 16, (byte) 0);
    Files.write(last, bytes);
    try (Broker broker = broker()) {
      broker.start();
      assertPassesOn(broker);
    }
    assertEquals(1, setAside().size());
    Path kept = setAside().get(0).resolve("journal").resolve(last.getFileName());
    assertArrayEquals(bytes, Files.readAllBytes(kept), "as it was found");
    try (Broker broker = broker()) {
      broker.start();
      assertPassesOn(broker);
    }
    assertEquals(1, setAside().size(), "the new one is whole");
  }

  @Test
  void whateverIsDamagedItStarts() throws Exception {
    Random random = new Random(20_261_126);
    for (int round = 0; round < 12; round++) {
      fill();
      List<Path> all = files("journal", "bindings");
      Path one = all.get(random.nextInt(all.size()));
      byte[] bytes = Files.readAllBytes(one);
      int from =
          round % 3 == 0 || bytes.length == 0 ? 0 : random.nextInt(Math.min(bytes.length, 8192));
      byte[] garbage = new byte[Math.min(bytes.length - from, 1 + random.nextInt(8192))];
      if (random.nextBoolean()) {
        random.nextBytes(garbage);
      }
      System.arraycopy(garbage, 0, bytes, from, garbage.length);
      Files.write(one, bytes);
      try (Broker broker = broker()) {
        broker.start();
        assertPassesOn(broker);
      }
      assertTrue(setAside().size() <= 1, "only the last one is kept");
    }
  }

  @Test
  void aTakenPortIsNoReasonToSetAnythingAside() throws Exception {
    fill();
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress());
        Broker broker =
            new ArtemisBroker(folder, "127.0.0.1", taken.getLocalPort(), DeviceLogins.of(folder))) {
      assertThrows(BrokerFailure.class, broker::start);
    }
    assertEquals(List.of(), setAside());
  }
}
