package org.layroom.dashboard.access.device;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedQueue;
import org.eclipse.paho.client.mqttv3.IMqttDeliveryToken;
import org.eclipse.paho.client.mqttv3.MqttCallback;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.MqttMessage;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.ForeignTopics;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;

/** Password file and access list read by the real mosquitto. */
class MosquittoLoginIT {
  private static final Duration SOON = Duration.ofSeconds(60);
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("shop", "annex");

  @TempDir Path folder = Path.of("");

  private final List<MqttClient> clients = new ArrayList<>();
  private final ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
  private Optional<DeviceLogins> known = Optional.empty();
  private Optional<Mosquitto> started = Optional.empty();
  private String bench = "";
  private String annex = "";

  @BeforeEach
  void aMosquittoThatKnowsTwoDevices() throws IOException {
    Mosquitto.required();
    DeviceLogins logins = DeviceLogins.of(folder);
    known = Optional.of(logins);
    bench = logins.pair(BENCH);
    annex = logins.pair(ANNEX);
    writeFiles();
    Mosquitto broker =
        Mosquitto.prepareWith(
            folder,
            "allow_anonymous false\npassword_file %s\nacl_file %s\nuse_username_as_clientid true\n"
                .formatted(folder.resolve("passwd"), folder.resolve("acl")));
    started = Optional.of(broker);
    broker.start();
  }

  private DeviceLogins logins() {
    return known.orElseThrow();
  }

  private Mosquitto broker() {
    return started.orElseThrow();
  }

  private void writeFiles() throws IOException {
    Files.write(folder.resolve("passwd"), logins().mosquittoPasswords());
    Files.write(folder.resolve("acl"), logins().mosquittoAccess());
  }

  @AfterEach
  void stop() throws MqttException {
    for (MqttClient client : clients) {
      if (client.isConnected()) {
        client.disconnect();
      }
      client.close(true);
    }
    started.ifPresent(Mosquitto::close);
  }

  private final class Hearing implements MqttCallback {
    @Override
    public void connectionLost(Throwable cause) {}

    @Override
    public void messageArrived(String topic, MqttMessage message) {
      heard.add(topic + " " + new String(message.getPayload(), StandardCharsets.UTF_8));
    }

    @Override
    public void deliveryComplete(IMqttDeliveryToken token) {}
  }

  private MqttClient connect(String user, String password) throws MqttException {
    MqttClient client =
        new MqttClient(broker().uri().toString(), "any-" + user, new MemoryPersistence());
    client.setTimeToWait(SOON.toMillis());
    client.setCallback(new Hearing());
    clients.add(client);
    MqttConnectOptions options = new MqttConnectOptions();
    if (!user.isEmpty()) {
      options.setUserName(user);
      options.setPassword(password.toCharArray());
    }
    client.connect(options);
    return client;
  }

  private MqttClient dashboard() throws MqttException, IOException {
    return connect(
        BrokerClient.Dashboard.USER, Files.readAllLines(logins().ownPasswordFile()).get(0));
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private void refused(String user, String password) {
    MqttException refused = assertThrows(MqttException.class, () -> connect(user, password));
    assertEquals(MqttException.REASON_CODE_NOT_AUTHORIZED, refused.getReasonCode());
  }

  @Test
  void onlyTheRightPasswordsComeIn() throws MqttException, IOException {
    assertTrue(connect(BENCH.user(), bench).isConnected());
    assertTrue(dashboard().isConnected());
    refused(BENCH.user(), annex);
    refused("", "");
    refused("stranger", bench);
  }

  @Test
  void aDeviceIsHeardOnItsOwnTopicsAlone() throws MqttException, IOException {
    MqttClient dashboard = dashboard();
    dashboard.subscribe("layroom/#", 1);
    for (String topic : ForeignTopics.SAID) {
      leftAsAWill(topic);
    }
    MqttClient device = connect(BENCH.user(), bench);
    for (String topic : ForeignTopics.SAID) {
      saidOrLeft(device, topic);
    }
    for (String kind : List.of("readings", "status", "alarm")) {
      device.publish(BENCH.baseName() + kind, bytes("own"), 1, false);
    }
    Until.within(SOON, "its own are heard", () -> heard.size() >= 3);
    assertFalse(heard.stream().anyMatch(one -> one.contains("forged")), heard.toString());
  }

  /** Whether mosquitto refuses it with the connection or drops it, nobody hears it. */
  private void saidOrLeft(MqttClient device, String topic) {
    try {
      device.publish(topic, bytes("forged"), 1, true);
    } catch (MqttException e) {
      assertFalse(heard.stream().anyMatch(one -> one.contains("forged")), topic);
    }
  }

  private void leftAsAWill(String topic) {
    try (MqttClient leaving =
        new MqttClient(broker().uri().toString(), "leaving", new MemoryPersistence())) {
      MqttConnectOptions options = new MqttConnectOptions();
      options.setUserName(BENCH.user());
      options.setPassword(bench.toCharArray());
      options.setWill(topic, bytes("forged"), 1, true);
      leaving.connect(options);
      leaving.disconnectForcibly(0, 1, false);
    } catch (MqttException e) {
      assertFalse(heard.stream().anyMatch(one -> one.contains("forged")), topic);
    }
  }

  /** mosquitto takes any subscription and delivers only what may be read. */
  @Test
  void aDeviceHearsItsOwnTopicsAloneWhateverItSubscribesTo() throws MqttException, IOException {
    MqttClient device = connect(BENCH.user(), bench);
    for (String filter : ForeignTopics.HEARD) {
      device = hearing(device, filter);
    }
    MqttClient dashboard = dashboard();
    dashboard.publish(ANNEX.baseName() + "settings", bytes("secret"), 1, false);
    dashboard.publish("layroom/shop/warnings", bytes("secret"), 1, false);
    dashboard.publish("layroom/house/verdict", bytes("secret"), 1, false);
    dashboard.publish("layroom/shop/verdict", bytes("for its lamps"), 1, false);
    for (String kind : List.of("stored", "settings", "acknowledge")) {
      dashboard.publish(BENCH.baseName() + kind, bytes("for bench"), 1, false);
    }
    Until.within(SOON, "its own and its room's are heard", () -> heard.size() >= 4);
    assertFalse(heard.stream().anyMatch(one -> one.contains("secret")), heard.toString());
  }

  /** Who is sent away for what it asked comes again. */
  private MqttClient hearing(MqttClient device, String filter) throws MqttException {
    try {
      device.subscribe(filter, 1);
      return device;
    } catch (MqttException e) {
      return connect(BENCH.user(), bench);
    }
  }

  @Test
  void aRevokedDeviceIsSentAwayWhenTheFilesAreReadAgainAndTheOthersStay() throws Exception {
    MqttClient revoked = connect(BENCH.user(), bench);
    MqttClient stays = connect(ANNEX.user(), annex);
    logins().revoke(BENCH);
    writeFiles();
    assertTrue(revoked.isConnected(), "until the files are read again");
    broker().reload();
    Until.within(
        SOON,
        "it is sent away",
        () -> {
          try {
            stays.publish(ANNEX.baseName() + "readings", bytes("go on"), 1, false);
          } catch (MqttException e) {
            throw new IllegalStateException(e);
          }
          return !revoked.isConnected();
        });
    refused(BENCH.user(), bench);
    assertTrue(stays.isConnected());
  }

  @Test
  void aReaderHearsWhatItMayAndSaysNothing() throws Exception {
    BrokerClient.Reader hub = new BrokerClient.Reader("hub");
    String password = logins().pair(hub);
    writeFiles();
    broker().reload();
    MqttClient[] reader = new MqttClient[1];
    Until.within(
        SOON,
        "it is let in",
        () -> {
          try {
            reader[0] = connect(hub.user(), password);
            return true;
          } catch (MqttException e) {
            return false;
          }
        });
    reader[0].subscribe("#", 1);
    MqttClient dashboard = dashboard();
    dashboard.publish(BENCH.baseName() + "settings", bytes("secret"), 1, true);
    dashboard.publish("layroom/shop/verdict", bytes("heard"), 1, true);
    dashboard.publish("layroom-now/shop/temperature", bytes("heard"), 1, true);
    Until.within(SOON, "both are heard", () -> heard.size() >= 2);
    assertFalse(heard.stream().anyMatch(one -> one.contains("secret")), heard.toString());
    heard.clear();
    dashboard.subscribe("#", 1);
    for (String topic : List.of("layroom-now/shop/temperature", BENCH.baseName() + "readings")) {
      reader[0].publish(topic, bytes("forged"), 1, true);
    }
    dashboard.publish("layroom/dashboard", bytes("after"), 1, false);
    Until.within(SOON, "the dashboard is heard", () -> heard.contains("layroom/dashboard after"));
    assertFalse(heard.stream().anyMatch(one -> one.contains("forged")), heard.toString());
  }
}
