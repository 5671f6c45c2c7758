package org.layroom.dashboard.room;

import com.code_intelligence.jazzer.api.BugDetectors;
import com.code_intelligence.jazzer.api.FuzzedDataProvider;
import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.ForeignTopics;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/**
 * MQTT bytes for the broker inside, from strangers and from a paired device: whole, half and broken
 * packets of versions 3.1.1 and 5 with random topics, properties and lengths. Whatever is said, the
 * dashboard hears on over the connection it has, and another device's next reading is stored.
 */
class MqttBytesFuzz {
  private static final Duration SOON = Duration.ofSeconds(60);
  private static final Channel BENCH = Channel.of("shop", "bench");
  private static final Channel ANNEX = Channel.of("shop", "annex");
  private static final int READING_EVERY = 20;
  private static final int ANSWER_MILLIS = 50;

  private static Optional<Shop> shop = Optional.empty();
  private static int run;

  /** One dashboard for all inputs, so that what one leaves behind meets the next. */
  private record Shop(DashboardCore core, OutboxDevice bench, String annexPassword) {
    static Shop open() {
      try {
        Path data = Files.createTempDirectory("layroom-mqtt-fuzz");
        DeviceLogins logins = DeviceLogins.of(data);
        String bench = logins.pair(BENCH);
        String annex = logins.pair(ANNEX);
        RealTime pace = new RealTime();
        DashboardCore core = DashboardCore.start(CoreSettings.embedded(data, 0), pace, pace);
        Until.within(SOON, "it is connected", () -> core.link().connected());
        return new Shop(
            core,
            new OutboxDevice(
                    core::brokerUri, BENCH, "box", new OutboxDevice.Login(BENCH.user(), bench))
                .start(),
            annex);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }

    void hearsOn() {
      long sequence = bench.measure(Instant.now(), 20);
      Until.stored(SOON, "a reading is stored", core, () -> bench.mark() == sequence);
      if (core.link().connects() != 1 || core.link().deafRestarts() != 0) {
        throw new AssertionError("the dashboard's connection was lost: " + core.link());
      }
    }
  }

  @FuzzTest
  void whatIsSaidToTheBroker(FuzzedDataProvider data) {
    BugDetectors.allowNetworkConnections(
        (host, port) -> host.equals("localhost") || host.equals("127.0.0.1"));
    Shop open = shop.orElseGet(Shop::open);
    shop = Optional.of(open);
    URI broker = open.core().brokerUri();
    try (Socket socket = new Socket(broker.getHost(), broker.getPort())) {
      socket.setSoTimeout(ANSWER_MILLIS);
      boolean loggedIn = data.consumeBoolean();
      boolean five = data.consumeBoolean();
      socket
          .getOutputStream()
          .write(loggedIn ? connect(data, five, open.annexPassword()) : packet(data, five));
      if (!loggedIn || socket.getInputStream().read() >= 0) {
        for (int i = 0; i < 8 && data.remainingBytes() > 0; i++) {
          socket.getOutputStream().write(packet(data, five));
        }
      }
      socket.shutdownOutput();
      drain(socket.getInputStream());
    } catch (IOException e) {
      Logger.debug("Closed in the middle, as it may be: {}", e.getMessage());
    }
    if (run++ % READING_EVERY == 0) {
      open.hearsOn();
    }
  }

  private static void drain(InputStream in) throws IOException {
    in.readAllBytes();
  }

  /** MQTT 3.1.1 and 5, section 3.1: a login that is right, with random rest. */
  private static byte[] connect(FuzzedDataProvider data, boolean five, String password) {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    boolean will = data.consumeBoolean();
    text(body, "MQTT");
    body.write(five ? 5 : 4);
    body.write(0xc2 | (will ? 0x04 | (data.consumeInt(0, 3) << 3) : 0));
    body.write(0);
    body.write(data.consumeInt(0, 255));
    properties(body, data, five);
    text(body, ANNEX.clientId());
    if (will) {
      properties(body, data, five);
      text(body, topic(data));
      bytes(body, data.consumeBytes(40));
    }
    text(body, ANNEX.user());
    text(body, password);
    return whole(0x10, body.toByteArray());
  }

  /** A packet of any kind, whole, cut short, or with a length of its own. */
  private static byte[] packet(FuzzedDataProvider data, boolean five) {
    ByteArrayOutputStream body = new ByteArrayOutputStream();
    int kind = data.consumeInt(0, 15);
    int flags = data.consumeInt(0, 15);
    if (kind == 3) {
      text(body, topic(data));
      body.writeBytes(data.consumeBytes(2));
      properties(body, data, five);
      body.writeBytes(payload(data));
    } else if (kind == 8 || kind == 10) {
      body.writeBytes(data.consumeBytes(2));
      properties(body, data, five);
      for (int i = data.consumeInt(0, 3); i >= 0; i--) {
        text(body, data.consumeBoolean() ? filter(data) : topic(data));
        if (kind == 8) {
          body.write(data.consumeInt(0, 255));
        }
      }
    } else {
      body.writeBytes(data.consumeBytes(60));
    }
    byte[] whole = whole(kind << 4 | flags, body.toByteArray());
    if (data.consumeBoolean()) {
      return whole;
    }
    int cut = data.consumeInt(0, whole.length);
    byte[] broken = new byte[cut];
    System.arraycopy(whole, 0, broken, 0, cut);
    if (cut > 1 && data.consumeBoolean()) {
      broken[1] = data.consumeByte();
    }
    return broken;
  }

  private static byte[] payload(FuzzedDataProvider data) {
    return data.consumeBoolean()
        ? data.consumeBytes(200)
        : "[{\"bn\":\"%s\",\"n\":\"%s\",\"v\":%d}]"
            .formatted(ANNEX.baseName(), data.consumeString(12), data.consumeInt())
            .getBytes(StandardCharsets.UTF_8);
  }

  private static String topic(FuzzedDataProvider data) {
    return switch (data.consumeInt(0, 3)) {
      case 0 -> data.consumeString(40);
      case 1 -> data.pickValue(ForeignTopics.SAID);
      case 2 -> "layroom/" + data.consumeString(8) + "/annex/readings";
      default -> ANNEX.baseName() + data.pickValue(List.of("readings", "status", "alarm"));
    };
  }

  private static String filter(FuzzedDataProvider data) {
    return data.consumeBoolean() ? data.pickValue(ForeignTopics.HEARD) : data.consumeString(40);
  }

  /** MQTT 5, section 2.2.2: random ones, their length mostly right. */
  private static void properties(
      ByteArrayOutputStream body, FuzzedDataProvider data, boolean five) {
    if (five) {
      byte[] all = data.consumeBytes(data.consumeInt(0, 40));
      body.write(data.consumeInt(0, 9) == 0 ? data.consumeInt(0, 127) : all.length);
      body.writeBytes(all);
    }
  }

  private static void text(ByteArrayOutputStream body, String text) {
    bytes(body, text.getBytes(StandardCharsets.UTF_8));
  }

  private static void bytes(ByteArrayOutputStream body, byte[] all) {
    body.write(all.length >> 8);
    body.write(all.length);
    body.writeBytes(all);
  }

  private static byte[] whole(int first, byte[] body) {
    ByteArrayOutputStream packet = new ByteArrayOutputStream();
    packet.write(first);
    int left = body.length;
    do {
      packet.write(left > 127 ? (left & 0x7f) | 0x80 : left);
      left >>= 7;
    } while (left > 0);
    packet.writeBytes(body);
    return packet.toByteArray();
  }
}
