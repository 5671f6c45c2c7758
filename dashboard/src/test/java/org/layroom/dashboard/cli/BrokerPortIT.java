package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.net.httpserver.HttpServer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketException;
import java.net.SocketTimeoutException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/**
 * The port of the broker inside the shipped dashboard, spoken to by raw sockets and by a page of
 * another origin. Byte sequences: MQTT 3.1.1, sections 2.2 and 3.1; RFC 9112; RFC 6455, section
 * 1.3; RFC 8446, section 5.1; AMQP 1.0, section 2.2.
 */
class BrokerPortIT {
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final int HOSTILE = 200;

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  private final List<Socket> sockets = new ArrayList<>();
  private Optional<ShippedJars.Running> dashboard = Optional.empty();
  private String password = "";

  @BeforeEach
  void start() throws IOException {
    Path data = folder.resolve("data");
    password = DeviceLogins.of(data).pair(BENCH);
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nzone=UTC\ndata=" + data + "\n");
    dashboard =
        Optional.of(
            ShippedJars.start(
                ShippedJars.DASHBOARD,
                "Ready",
                folder.resolve("dashboard.log"),
                "serve",
                "--config",
                config.toString()));
  }

  @AfterEach
  void stop() throws IOException, InterruptedException {
    for (Socket socket : sockets) {
      socket.close();
    }
    if (dashboard.isPresent()) {
      dashboard.get().close();
    }
  }

  private URI broker() {
    return URI.create(dashboard.orElseThrow().after("Broker:"));
  }

  private Socket connect(byte[] first) throws IOException {
    Socket socket = new Socket(InetAddress.getLoopbackAddress(), broker().getPort());
    socket.setSoTimeout((int) SOON.toMillis());
    sockets.add(socket);
    try {
      socket.getOutputStream().write(first);
    } catch (SocketException e) {
      assertFalse(socket.isClosed(), "closed by the other end before all was said");
    }
    return socket;
  }

  private MqttClient device() throws MqttException {
    MqttClient client =
        new MqttClient(broker().toString(), BENCH.clientId(), new MemoryPersistence());
    client.setTimeToWait(SOON.toMillis());
    MqttConnectOptions options = new MqttConnectOptions();
    options.setUserName(BENCH.user());
    options.setPassword(password.toCharArray());
    client.connect(options);
    return client;
  }

  /** Without an outbox: such a message is acknowledged once it is stored, not before. */
  private static void reading(MqttClient device, double temperatureC) throws MqttException {
    String body =
        "[{\"bn\":\"%s\",\"n\":\"temperature\",\"u\":\"Cel\",\"v\":%s}]"
            .formatted(BENCH.baseName(), temperatureC);
    device.publish(
        BENCH.topic(Topic.READINGS), body.getBytes(StandardCharsets.UTF_8), Topic.QOS, false);
  }

  private static byte[] ascii(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  private static byte[] begins(byte[] first, int length) {
    byte[] all = new byte[length];
    System.arraycopy(first, 0, all, 0, first.length);
    return all;
  }

  private static final byte[] HALF_A_CONNECT = {0x10, 15, 0, 4, 'M', 'Q', 'T', 'T', 4};

  private static final byte[] WRONG_LOGIN = {
    0x10,
    21,
    0,
    4,
    'M',
    'Q',
    'T',
    'T',
    4,
    (byte) 0xc2,
    0,
    0,
    0,
    1,
    'x',
    0,
    1,
    'y',
    0,
    3,
    'z',
    'z',
    'z'
  };

  /** A CONNECT that announces nearly two megabytes, and begins to say them. */
  private static final byte[] LARGE_CONNECT =
      begins(
          new byte[] {0x10, (byte) 0x80, (byte) 0x80, 120, 0, 4, 'M', 'Q', 'T', 'T', 5, 2, 0, 0},
          20_000);

  private static final byte[] POST =
      ascii("POST / HTTP/1.1\r\nHost: localhost\r\nContent-Length: 15000000\r\n\r\n0123456789");

  private static final byte[] WEBSOCKET =
      ascii(
          String.join(
              "\r\n",
              "GET / HTTP/1.1",
              "Host: localhost",
              "Upgrade: websocket",
              "Connection: Upgrade",
              "Origin: http://elsewhere.example",
              "Sec-WebSocket-Version: 13",
              "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==",
              "Sec-WebSocket-Protocol: mqtt",
              "",
              ""));

  static List<byte[]> otherThanMqtt() {
    return List.of(
        ascii("GET / HTTP/1.1\r\nHost: localhost\r\n\r\n"),
        WEBSOCKET,
        POST,
        new byte[] {0x16, 3, 1, 0, 5, 1, 0, 0, 1, 0},
        new byte[] {'A', 'M', 'Q', 'P', 0, 1, 0, 0},
        new byte[] {0x30, 5, 0, 1, 'a', 'h', 'i'},
        new byte[] {0x10, (byte) 0x80, (byte) 0x80, (byte) 0x80, (byte) 0x80, 1},
        new byte[] {0x10, 12, 0, 4, 'H', 'T', 'T', 'P', 4, 2, 0, 0, 0, 0},
        LARGE_CONNECT);
  }

  private static int nextByte(Socket socket) throws IOException {
    try {
      return socket.getInputStream().read();
    } catch (SocketException e) {
      return -1; // reset, because it was closed with bytes unread
    }
  }

  @ParameterizedTest
  @MethodSource("otherThanMqtt")
  void whatDoesNotBeginWithAConnectIsClosedAtOnceWithoutAWord(byte[] first) throws Exception {
    Socket silent = connect(new byte[0]);
    assertEquals(-1, nextByte(connect(first)), "not one byte is answered");
    silent.setSoTimeout(1);
    assertTrue(stillOpen(silent), "and not only because it took too long");
  }

  private static boolean stillOpen(Socket socket) throws IOException {
    try {
      return socket.getInputStream().read() >= 0;
    } catch (SocketTimeoutException e) {
      return true;
    } catch (SocketException e) {
      return false;
    }
  }

  @Test
  void silenceAndHalfAConnectAreClosedAndWhoHasALoginStays() throws Exception {
    MqttClient device = device();
    Socket silent = connect(new byte[0]);
    Socket half = connect(HALF_A_CONNECT);
    assertEquals(-1, nextByte(silent));
    assertEquals(-1, nextByte(half));
    reading(device, 19.5);
    device.disconnect();
    device.close();
  }

  @Test
  void aWrongLoginIsNotAuthorized() throws Exception {
    InputStream answer = connect(WRONG_LOGIN).getInputStream();
    assertArrayEquals(new byte[] {0x20, 2, 0, 5}, answer.readAllBytes());
  }

  /** Two hundred at once, of every kind, and each that is closed comes back at once. */
  @Test
  void twoHundredHostileConnectionsDoNotKeepAReadingFromBeingStored() throws Exception {
    List<byte[]> kinds =
        List.of(new byte[0], HALF_A_CONNECT, LARGE_CONNECT, POST, WEBSOCKET, WRONG_LOGIN);
    CountDownLatch over = new CountDownLatch(1);
    CountDownLatch there = new CountDownLatch(HOSTILE);
    List<Thread> attackers = new ArrayList<>();
    for (int i = 0; i < HOSTILE; i++) {
      byte[] first = kinds.get(i % kinds.size());
      Thread attacker = new Thread(() -> attack(first, there, over), "hostile-" + i);
      attacker.setDaemon(true);
      attackers.add(attacker);
      attacker.start();
    }
    there.await();
    long begun = System.nanoTime();
    MqttClient device = device();
    reading(device, 19.5);
    double seconds = (System.nanoTime() - begun) / 1e9;
    assertEquals(1, over.getCount(), "they are still at it");
    assertTrue(attackers.stream().allMatch(Thread::isAlive), "all of them");
    System.out.printf(
        Locale.ROOT,
        "BrokerPortIT: among %d hostile connections a reading was stored after %.1f s%n",
        HOSTILE,
        seconds);
    over.countDown();
    device.disconnect();
    device.close();
  }

  private void attack(byte[] first, CountDownLatch there, CountDownLatch over) {
    while (over.getCount() > 0) {
      try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), broker().getPort())) {
        socket.setSoTimeout((int) SOON.toMillis());
        socket.getOutputStream().write(first);
        there.countDown();
        while (over.getCount() > 0 && socket.getInputStream().read() >= 0) {
          there.countDown();
        }
      } catch (IOException e) {
        there.countDown(); // cut off while it spoke
      }
    }
  }

  @Test
  void aPageOfAnotherOriginCannotSpeakToIt() throws Exception {
    HttpServer elsewhere =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    elsewhere.createContext(
        "/",
        exchange -> {
          byte[] page =
              ascii(
                  "<p id=said>waiting</p><script>const s=new WebSocket('ws://127.0.0.1:%d','mqtt');"
                          .formatted(broker().getPort())
                      + "const say=w=>document.getElementById('said').textContent=w;"
                      + "s.onopen=()=>say('it is open');s.onclose=()=>say('it is closed');"
                      + "</script>");
          exchange.getResponseHeaders().add("Content-Type", "text/html");
          exchange.sendResponseHeaders(200, page.length);
          exchange.getResponseBody().write(page);
          exchange.close();
        });
    elsewhere.start();
    try (Browser browser = Browser.open()) {
      browser.go("http://localhost:" + elsewhere.getAddress().getPort() + "/");
      browser.awaitText("#said", "it is");
      assertEquals("it is closed", browser.text("#said"));
    } finally {
      elsewhere.stop(0);
    }
  }

  @Test
  void aStormOfWrongLoginsIsNoStormInTheLog() throws Exception {
    int many = 500;
    for (int i = 0; i < many; i++) {
      connect(WRONG_LOGIN);
    }
    Path log = folder.resolve("dashboard.log");
    Until.within(SOON, "it is said", () -> said(log, "Broker refused a login"));
    assertTrue(Files.size(log) < 100L * many, "bytes in the log: " + Files.size(log));
    assertEquals(1, Files.readAllLines(log).stream().filter(l -> l.contains("a login")).count());
  }

  /**
   * User names come from strangers: MQTT 3.1.1, section 3.1.3.4, allows any character but U+0000.
   */
  @Test
  void aNameWithLineFeedsForgesNoLineOfTheLog() throws Exception {
    byte[] name = ascii("x\n2026-01-01 00:00:00 ERROR forged\u001b[2J");
    ByteArrayOutputStream connect = new ByteArrayOutputStream();
    connect.write(0x10);
    connect.write(10 + 3 + 2 + name.length + 3);
    connect.writeBytes(new byte[] {0, 4, 'M', 'Q', 'T', 'T', 4, (byte) 0xc2, 0, 0, 0, 1, 'i'});
    connect.write(0);
    connect.write(name.length);
    connect.writeBytes(name);
    connect.writeBytes(new byte[] {0, 1, 'p'});
    Socket stranger = connect(connect.toByteArray());
    assertEquals(0x20, nextByte(stranger));
    Path log = folder.resolve("dashboard.log");
    Until.within(SOON, "it is said", () -> said(log, "Broker refused a login"));
    assertTrue(Files.readAllLines(log).stream().noneMatch(line -> line.startsWith("2026-01-01")));
    assertFalse(said(log, "\u001b"));
  }

  private static boolean said(Path log, String words) {
    try {
      return Files.readString(log).contains(words);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }
}
