package org.layroom.dashboard.broker;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CopyOnWriteArrayList;
import org.eclipse.paho.client.mqttv3.IMqttMessageListener;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.access.device.UnpairedDevices;
import org.layroom.dashboard.testing.ForeignTopics;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/**
 * Who comes in and what they may do, asked with a client of the Paho project. The reason codes are
 * those of MQTT 3.1.1: 5 "not authorized" (section 3.2.2.3), 128 "failure" (section 3.9.3).
 */
class BrokerAccessTest {
  private static final Duration SOON = Duration.ofSeconds(60);
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("shop", "annex");
  private static final int NOT_AUTHORIZED = 5;
  private static final int SUBSCRIPTION_FAILED = 128;

  @TempDir Path folder;

  private final List<MqttClient> clients = new ArrayList<>();
  private final ConcurrentLinkedQueue<String> heard = new ConcurrentLinkedQueue<>();
  private Optional<Broker> broker = Optional.empty();
  private Optional<DeviceLogins> logins = Optional.empty();

  @BeforeEach
  void open() {
    open("127.0.0.1");
  }

  private void open(String address) {
    DeviceLogins known = DeviceLogins.of(folder);
    Broker opened = new ArtemisBroker(folder.resolve("broker"), address, 0, known);
    opened.start();
    broker = Optional.of(opened);
    logins = Optional.of(known);
  }

  @AfterEach
  void close() throws MqttException {
    for (MqttClient client : clients) {
      if (client.isConnected()) {
        client.disconnect();
      }
      client.close(true);
    }
    broker.ifPresent(Broker::close);
  }

  private DeviceLogins logins() {
    return logins.orElseThrow();
  }

  private URI uri() {
    return broker.orElseThrow().uri();
  }

  private MqttClient connect(String id, MqttConnectOptions options) throws MqttException {
    MqttClient client = new MqttClient(uri().toString(), id, new MemoryPersistence());
    client.setTimeToWait(SOON.toMillis());
    client.setCallback(new Hearing(heard));
    clients.add(client);
    client.connect(options);
    return client;
  }

  private static MqttConnectOptions as(String user, String password) {
    MqttConnectOptions options = new MqttConnectOptions();
    options.setUserName(user);
    options.setPassword(password.toCharArray());
    return options;
  }

  private MqttClient device(Channel channel, String password) throws MqttException {
    return connect(channel.clientId(), as(channel.user(), password));
  }

  private MqttClient dashboard() throws MqttException, IOException {
    String password = Files.readAllLines(logins().ownPasswordFile()).get(0);
    return connect("dashboard", as(BrokerClient.Dashboard.USER, password));
  }

  private static byte[] bytes(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private static int refusal(Executable attempt) {
    return assertThrows(MqttException.class, attempt).getReasonCode();
  }

  @ParameterizedTest
  @ValueSource(strings = {"127.0.0.1", "0.0.0.0"})
  void nobodyComesInWithoutANameWhetherADeviceIsPairedOrNot(String address) throws MqttException {
    broker.orElseThrow().close();
    open(address);
    assertEquals(NOT_AUTHORIZED, refusal(() -> connect("anybody", new MqttConnectOptions())));
    logins().pair(BENCH);
    assertEquals(NOT_AUTHORIZED, refusal(() -> connect("anybody", new MqttConnectOptions())));
  }

  /** An unpaired device says no name; its client id and its will tell which one it is. */
  @Test
  void aDeviceThatIsRefusedCanBeNamedUntilItIsIn() throws MqttException {
    refusal(() -> connect(BENCH.clientId(), new MqttConnectOptions()));
    MqttConnectOptions withWill = new MqttConnectOptions();
    withWill.setWill(ANNEX.topic(Topic.STATUS), bytes("gone"), 1, true);
    refusal(() -> connect("a-board", withWill));
    refusal(() -> connect("anybody", new MqttConnectOptions()));
    assertEquals(
        List.of(ANNEX, BENCH),
        logins().unpaired().lately().stream().map(UnpairedDevices.Refused::channel).toList());
    device(BENCH, logins().pair(BENCH));
    assertEquals(
        List.of(ANNEX),
        logins().unpaired().lately().stream().map(UnpairedDevices.Refused::channel).toList());
  }

  @Test
  void aWrongPasswordAndAnUnknownNameAreRefused() {
    String password = logins().pair(BENCH);
    assertEquals(NOT_AUTHORIZED, refusal(() -> device(BENCH, password + "x")));
    assertEquals(NOT_AUTHORIZED, refusal(() -> device(BENCH, "")));
    assertEquals(NOT_AUTHORIZED, refusal(() -> device(ANNEX, password)));
    assertEquals(
        NOT_AUTHORIZED, refusal(() -> connect("x", as(BrokerClient.Dashboard.USER, password))));
  }

  @Test
  void aDeviceSpeaksAndHearsOnItsOwnTopics() throws MqttException, IOException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    MqttClient dashboard = dashboard();
    dashboard.subscribe("layroom/#", 1);
    for (String kind : List.of("readings", "status", "alarm")) {
      device.publish(BENCH.baseName() + kind, bytes(kind), 1, !kind.equals("readings"));
    }
    for (String kind : List.of("stored", "settings", "acknowledge")) {
      device.subscribe(BENCH.baseName() + kind, 1);
      dashboard.publish(BENCH.baseName() + kind, bytes("to bench: " + kind), 1, false);
    }
    device.subscribe("layroom/dashboard", 1);
    Until.within(
        SOON,
        "all is heard",
        () ->
            heard.containsAll(List.of("readings", "status", "alarm"))
                && heard.contains("to bench: acknowledge"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "layroom/shop/annex/readings",
        "layroom/shop/annex/status",
        "layroom/shop/bench/stored",
        "layroom/shop/bench/settings",
        "layroom/shop/bench/acknowledge",
        "layroom/shop/bench/other",
        "layroom/shop/verdict",
        "layroom/shop/warnings",
        "layroom/dashboard",
        "anything"
      })
  void whatADevicePublishesElsewhereNobodyHearsNowOrLater(String topic)
      throws MqttException, IOException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    MqttClient dashboard = dashboard();
    dashboard.subscribe("#", 1);
    device.publish(topic, bytes("forged"), 1, true);
    device.publish(BENCH.baseName() + "readings", bytes("own"), 1, false);
    Until.within(SOON, "its own is heard", () -> heard.contains("own"));
    assertTrue(device.isConnected(), "it is refused the message, not the connection");
    heard.clear();
    MqttClient later = connect("later", as(BrokerClient.Dashboard.USER, ownPassword()));
    later.subscribe("#", 1);
    device.publish(BENCH.baseName() + "readings", bytes("again"), 1, false);
    Until.within(SOON, "its own is heard again", () -> heard.contains("again"));
    assertFalse(heard.contains("forged"), "nothing is retained");
  }

  /** Retained messages and wills of one table, which mosquitto's access list is tried with too. */
  @Test
  void nothingOfTheTableIsSaidOrLeftAsAWill() throws MqttException, IOException {
    String password = logins().pair(BENCH);
    MqttClient dashboard = dashboard();
    dashboard.subscribe("#", 1);
    for (String topic : ForeignTopics.SAID) {
      try {
        MqttConnectOptions forged = as(BENCH.user(), password);
        forged.setWill(topic, bytes("forged"), 1, true);
        connect(BENCH.clientId(), forged).disconnectForcibly(0, 1, false);
      } catch (MqttException e) {
        assertFalse(heard.contains("forged"), topic);
      }
      MqttClient device = device(BENCH, password);
      try {
        device.publish(topic, bytes("forged"), 1, true);
      } catch (MqttException e) {
        assertFalse(heard.contains("forged"), topic);
      }
    }
    device(BENCH, password).publish(BENCH.topic(Topic.READINGS), bytes("own"), 1, false);
    Until.within(SOON, "its own is heard", () -> heard.contains("own"));
    assertFalse(heard.contains("forged"));
    connect("later", as(BrokerClient.Dashboard.USER, ownPassword())).subscribe("#", 1);
    device(BENCH, password).publish(BENCH.topic(Topic.READINGS), bytes("again"), 1, false);
    Until.within(SOON, "its own is heard again", () -> heard.contains("again"));
    assertFalse(heard.contains("forged"), "nothing is retained");
  }

  @Test
  void nothingOfTheTableIsHeard() throws MqttException, IOException {
    String password = logins().pair(BENCH);
    MqttClient dashboard = dashboard();
    for (String filter : ForeignTopics.HEARD) {
      MqttClient device = device(BENCH, password);
      assertThrows(MqttException.class, () -> device.subscribe(filter, 1), filter);
      dashboard.publish(ANNEX.topic(Topic.SETTINGS), bytes("secret"), 1, false);
      dashboard.publish(BENCH.topic(Topic.SETTINGS), bytes("secret"), 1, false);
    }
    device(BENCH, password).subscribe(BENCH.topic(Topic.SETTINGS), 1);
    dashboard.publish(BENCH.topic(Topic.SETTINGS), bytes("own"), 1, false);
    Until.within(SOON, "its own is heard", () -> heard.contains("own"));
    assertFalse(heard.contains("secret"));
  }

  private String ownPassword() throws IOException {
    return Files.readAllLines(logins().ownPasswordFile()).get(0);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "#",
        "+/+/+/settings",
        "layroom/#",
        "layroom/+/+/readings",
        "layroom/shop/bench/#",
        "layroom/shop/bench/+",
        "layroom/shop/annex/settings",
        "layroom/shop/annex/readings",
        "layroom/house/verdict",
        "layroom/+/verdict",
        "layroom/shop/warnings",
        "layroom/shop/bench/readings"
      })
  void aDeviceIsRefusedEverySubscriptionThatIsNotItsOwn(String filter) throws MqttException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    assertEquals(SUBSCRIPTION_FAILED, refusal(() -> device.subscribe(filter, 1)));
  }

  /** The same that mosquitto is told: what is not in its list is neither heard nor given up. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "$SYS/#",
        "$share/group/layroom/shop/annex/settings",
        "$share/group/layroom/shop/bench/settings",
        "$share/group/layroom/#",
        "layroom/shop//settings",
        "/layroom/shop/bench/settings"
      })
  void aFilterThatNobodyNeedsEndsTheLinkOfADevice(String filter) throws MqttException {
    String password = logins().pair(BENCH);
    MqttClient subscribing = device(BENCH, password);
    assertThrows(MqttException.class, () -> subscribing.subscribe(filter, 1));
    Until.within(SOON, "it is sent away", () -> !subscribing.isConnected());
    MqttClient unsubscribing = device(BENCH, password);
    assertThrows(MqttException.class, () -> unsubscribing.unsubscribe(filter));
    Until.within(SOON, "it is sent away", () -> !unsubscribing.isConnected());
  }

  @Test
  void aDeviceGivesUpOnlyWhatItMayHear() throws MqttException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    device.subscribe(BENCH.topic(Topic.SETTINGS), 1);
    device.unsubscribe(BENCH.topic(Topic.SETTINGS));
    assertThrows(MqttException.class, () -> device.unsubscribe(ANNEX.topic(Topic.SETTINGS)));
    Until.within(SOON, "it is sent away", () -> !device.isConnected());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "layroom/dashboard",
        "layroom/shop/annex/status",
        "layroom/shop/bench/settings",
        "layroom/shop/bench/status::x",
        "layroom/shop/bench//status",
        "$SYS/status"
      })
  void aWillElsewhereIsRefusedWithTheConnection(String topic) {
    MqttConnectOptions options = as(BENCH.user(), logins().pair(BENCH));
    options.setWill(topic, bytes("forged"), 1, true);
    assertThrows(MqttException.class, () -> connect(BENCH.clientId(), options));
  }

  /**
   * Its lamps tell the mix check, and believe only one that is said while they listen: MQTT 3.1.1,
   * [MQTT-3.3.1-8] and [MQTT-3.3.1-9], tells the two apart by the retain flag.
   */
  @Test
  void aDeviceHearsTheMixCheckOfItsOwnRoomAndWhetherItIsOld() throws MqttException, IOException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    MqttClient dashboard = dashboard();
    List<String> said = new CopyOnWriteArrayList<>();
    IMqttMessageListener ear =
        (topic, message) -> said.add(message + (message.isRetained() ? " kept" : " now"));
    device.subscribe("layroom/shop/verdict", 1, ear);
    dashboard.publish("layroom/shop/verdict", bytes("wait"), 1, true);
    Until.within(SOON, "the verdict is heard", () -> said.equals(List.of("wait now")));
    device.unsubscribe("layroom/shop/verdict");
    device.subscribe("layroom/shop/verdict", 1, ear);
    Until.within(SOON, "and the old one", () -> said.equals(List.of("wait now", "wait kept")));
  }

  @Test
  void aWillOnAnothersTopicIsRefusedAndOnesOwnIsKept() throws MqttException, IOException {
    String password = logins().pair(BENCH);
    MqttConnectOptions forged = as(BENCH.user(), password);
    forged.setWill("layroom/dashboard", bytes("{\"state\":\"online\"}"), 1, true);
    assertThrows(MqttException.class, () -> connect(BENCH.clientId(), forged));
    MqttClient dashboard = dashboard();
    dashboard.subscribe("layroom/#", 1);
    MqttConnectOptions own = as(BENCH.user(), password);
    own.setWill(BENCH.baseName() + "status", bytes("gone"), 1, true);
    connect(BENCH.clientId(), own).disconnectForcibly(0, 1, false);
    Until.within(SOON, "the will is heard", () -> heard.contains("gone"));
  }

  @Test
  void aDeviceCannotTakeAnothersSession() throws MqttException, IOException {
    MqttClient dashboard = dashboard();
    String password = logins().pair(BENCH);
    assertThrows(MqttException.class, () -> connect("dashboard", as(BENCH.user(), password)));
    assertThrows(MqttException.class, () -> connect(ANNEX.clientId(), as(BENCH.user(), password)));
    assertTrue(dashboard.isConnected());
  }

  @Test
  void aRevokedDeviceIsSentAwayAtOnceTheOthersStayAndItsWillIsHeard()
      throws MqttException, IOException {
    String password = logins().pair(BENCH);
    MqttClient annex = device(ANNEX, logins().pair(ANNEX));
    MqttClient dashboard = dashboard();
    dashboard.subscribe("layroom/#", 1);
    MqttConnectOptions options = as(BENCH.user(), password);
    options.setWill(BENCH.baseName() + "status", bytes("gone"), 1, true);
    MqttClient bench = connect(BENCH.clientId(), options);
    assertTrue(logins().revoke(BENCH));
    Until.within(SOON, "the device is sent away", () -> !bench.isConnected());
    Until.within(SOON, "its will is heard", () -> heard.contains("gone"));
    assertEquals(NOT_AUTHORIZED, refusal(() -> device(BENCH, password)));
    assertTrue(annex.isConnected());
    assertTrue(dashboard.isConnected());
    assertFalse(logins().revoke(BENCH), "once is enough");
  }

  @Test
  void aDeviceThatIsPairedAnewNeedsTheNewPassword() throws MqttException {
    String first = logins().pair(BENCH);
    MqttClient bench = device(BENCH, first);
    String second = logins().pair(BENCH);
    Until.within(SOON, "the old session ends", () -> !bench.isConnected());
    assertEquals(NOT_AUTHORIZED, refusal(() -> device(BENCH, first)));
    assertTrue(device(BENCH, second).isConnected());
  }

  @Test
  void pairedDevicesAreKnownAfterARestartAndNoPasswordIsOnTheDisk()
      throws MqttException, IOException {
    String password = logins().pair(BENCH);
    broker.orElseThrow().close();
    open("127.0.0.1");
    assertTrue(device(BENCH, password).isConnected());
    Path file = folder.resolve("access").resolve("devices");
    assertFalse(Files.readString(file).contains(password));
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    assertEquals(
        "rw-------",
        PosixFilePermissions.toString(Files.getPosixFilePermissions(logins().ownPasswordFile())));
  }

  /** CONNECT without a name (MQTT 3.1.1, section 3.1), answered by CONNACK. */
  private Socket rawStranger() throws IOException {
    Socket socket = new Socket(uri().getHost(), uri().getPort());
    socket.setSoTimeout((int) SOON.toMillis());
    socket
        .getOutputStream()
        .write(new byte[] {0x10, 15, 0, 4, 'M', 'Q', 'T', 'T', 4, 2, 0, 0, 0, 3, 'r', 'a', 'w'});
    assertEquals(0x20, socket.getInputStream().readNBytes(4)[0]);
    return socket;
  }

  private static byte[] publish(String topic, String payload) {
    byte[] name = bytes(topic);
    byte[] body = bytes(payload);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    out.write(0x32);
    out.write(2 + name.length + 2 + body.length);
    out.write(0);
    out.write(name.length);
    out.writeBytes(name);
    out.write(0);
    out.write(7);
    out.writeBytes(body);
    return out.toByteArray();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"layroom/\n/x/readings", "layroom/shop/b/readings::q", "layroom//x/readings"})
  void aTopicThatNobodyNeedsIsHeardByNobodyAndEndsTheLinkOfItsSender(String topic)
      throws Exception {
    MqttClient dashboard = dashboard();
    dashboard.subscribe("layroom/#", 1);
    try (Socket stranger = rawStranger()) {
      stranger.getOutputStream().write(publish(topic, "poison"));
      assertEquals(-1, stranger.getInputStream().read(), "the link is closed");
    }
    dashboard.publish("layroom/shop/bench/readings", bytes("after"), 1, false);
    Until.within(SOON, "the next message is heard", () -> heard.contains("after"));
    assertFalse(heard.contains("poison"));
  }

  @Test
  void aPairedDeviceReachesNoOtherQueueBehindItsOwnTopic() throws Exception {
    String password = logins().pair(BENCH);
    MqttClient device = device(BENCH, password);
    String hidden = BENCH.topic(Topic.SETTINGS) + "::layroom.shop.annex.settings";
    assertThrows(MqttException.class, () -> device.subscribe(hidden, 1));
    Until.within(SOON, "it is sent away", () -> !device.isConnected());
  }

  private static final BrokerClient.Reader HUB = new BrokerClient.Reader("hub");

  private MqttClient reader(String id, String password) throws MqttException {
    return connect(id, as(HUB.user(), password));
  }

  @Test
  void aReaderHearsReadingsPlainValuesAndWhatTheDashboardSaysOfEveryRoom()
      throws MqttException, IOException {
    MqttClient hub = reader("hub-7", logins().pair(HUB));
    MqttClient dashboard = dashboard();
    for (String filter : BrokerClient.Reader.HEARS) {
      hub.subscribe(filter, 1);
    }
    List<String> all =
        List.of(
            "layroom-now/shop/temperature",
            "layroom-now/annex/mold-temperature/hatch",
            "layroom/dashboard",
            "layroom/shop/verdict",
            "layroom/shop/warnings",
            "layroom/shop/jobs",
            "layroom/shop/bench/readings",
            "layroom/shop/bench/status");
    for (String topic : all) {
      dashboard.publish(topic, bytes(topic), 1, true);
    }
    Until.within(SOON, "all are heard", () -> heard.containsAll(all));
    MqttClient later = reader("another", hubPassword());
    heard.clear();
    later.subscribe("layroom-now/+/temperature", 1);
    Until.within(
        SOON, "what is retained is heard", () -> heard.contains("layroom-now/shop/temperature"));
  }

  private String hubPassword() {
    return logins().pair(HUB);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "#",
        "+/#",
        "layroom/#",
        "layroom/+/+/#",
        "layroom/+/+/+",
        "layroom/shop/bench/settings",
        "layroom/shop/bench/stored",
        "layroom/+/+/alarm",
        "layroom/+/+/acknowledge",
        "layroom-then/#"
      })
  void aReaderIsRefusedWhatIsBetweenTheDashboardAndItsDevices(String filter) throws MqttException {
    MqttClient hub = reader("hub-7", hubPassword());
    assertEquals(SUBSCRIPTION_FAILED, refusal(() -> hub.subscribe(filter, 1)));
  }

  /** With raw sockets too: whatever is said, nobody hears it, now or later. */
  @Test
  void aReaderSaysNothing() throws Exception {
    String password = hubPassword();
    MqttClient dashboard = dashboard();
    dashboard.subscribe("#", 1);
    List<String> topics = new ArrayList<>(ForeignTopics.SAID);
    topics.addAll(
        List.of(
            "layroom-now/shop/temperature",
            "layroom-now/shop/warning",
            "layroom/shop/bench/readings",
            "layroom/shop/bench/status",
            "hub"));
    for (String topic : topics) {
      MqttConnectOptions will = as(HUB.user(), password);
      will.setWill(topic, bytes("forged"), 1, true);
      try {
        connect("hub-7", will).disconnectForcibly(0, 1, false);
      } catch (MqttException e) {
        assertFalse(heard.contains("forged"), topic);
      }
      try {
        reader("hub-7", password).publish(topic, bytes("forged"), 1, true);
      } catch (MqttException e) {
        assertFalse(heard.contains("forged"), topic);
      }
      try (Socket raw = rawReader(password)) {
        raw.getOutputStream().write(publish(topic, "forged"));
        raw.shutdownOutput();
        raw.getInputStream().readAllBytes();
      }
    }
    dashboard.publish("layroom/dashboard", bytes("after"), 1, false);
    Until.within(SOON, "the dashboard is heard", () -> heard.contains("after"));
    assertFalse(heard.contains("forged"));
    connect("later", as(BrokerClient.Dashboard.USER, ownPassword())).subscribe("#", 1);
    dashboard.publish("layroom/dashboard", bytes("again"), 1, false);
    Until.within(SOON, "it is heard again", () -> heard.contains("again"));
    assertFalse(heard.contains("forged"), "nothing is retained");
  }

  /** CONNECT of MQTT 3.1.1 (section 3.1) with name and password, answered by CONNACK with 0. */
  private Socket rawReader(String password) throws IOException {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    body.writeBytes(new byte[] {0, 4, 'M', 'Q', 'T', 'T', 4, (byte) 0xc2, 0, 60});
    for (String text : List.of("raw-hub", HUB.user(), password)) {
      body.write(0);
      body.write(text.length());
      body.writeBytes(bytes(text));
    }
    Socket socket = new Socket(uri().getHost(), uri().getPort());
    socket.setSoTimeout((int) SOON.toMillis());
    ByteArrayOutputStream packet = new ByteArrayOutputStream();
    packet.write(0x10);
    packet.write(body.size());
    packet.writeBytes(body.toByteArray());
    socket.getOutputStream().write(packet.toByteArray());
    byte[] answer = socket.getInputStream().readNBytes(4);
    assertEquals(0x20, answer[0]);
    assertEquals(0, answer[3]);
    return socket;
  }

  @Test
  void aReaderTakesNobodysClientId() throws MqttException, IOException {
    MqttClient device = device(BENCH, logins().pair(BENCH));
    MqttClient dashboard = dashboard();
    String password = hubPassword();
    String other = logins().pair(new BrokerClient.Reader("sheet"));
    MqttClient sheet = connect("sheet-1", as("sheet", other));
    for (String id : List.of(BENCH.clientId(), "dashboard", "sheet-1", "layroom-anything")) {
      assertThrows(MqttException.class, () -> reader(id, password), id);
    }
    assertTrue(device.isConnected() && dashboard.isConnected() && sheet.isConnected());
    MqttClient first = reader("hub-7", password);
    MqttClient second = reader("hub-7", password);
    Until.within(SOON, "its own place it takes", () -> !first.isConnected());
    assertTrue(second.isConnected());
  }

  @Test
  void aRevokedReaderIsSentAwayAtOnceAndNoDeviceIsListedForIt() throws MqttException {
    MqttClient hub = reader("hub-7", hubPassword());
    assertEquals(List.of(HUB), logins().readers());
    assertEquals(List.of(), logins().paired());
    assertTrue(logins().revoke(HUB));
    Until.within(SOON, "it is sent away", () -> !hub.isConnected());
    assertEquals(List.of(), logins().readers());
    assertFalse(logins().revoke(HUB), "once is enough");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "Hub", "shop.bench", "layroom-dashboard", "layroom", "a b"})
  void aReaderHasANameThatNobodyElseCanHave(String name) {
    assertThrows(IllegalArgumentException.class, () -> new BrokerClient.Reader(name));
  }
}
