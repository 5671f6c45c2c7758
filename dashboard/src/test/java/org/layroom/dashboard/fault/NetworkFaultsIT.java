package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.net.InetAddress;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.LongStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.broker.ArtemisBroker;
import org.layroom.dashboard.ingest.Rejection;
import org.layroom.dashboard.mqtt.LinkTimes;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.RealTime;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;

/** Links that are slow, cut, repeat themselves, or have somebody else on them. */
@ExtendWith(Campaign.class)
@Timeout(1200)
class NetworkFaultsIT {
  private static final Duration PATIENCE = Duration.ofMinutes(2);

  /** For links of some 50 kB a second that have thousands of readings to carry twice. */
  private static final Duration SLOW = Duration.ofMinutes(5);

  private static final LinkTimes QUICK =
      new LinkTimes(
          Duration.ofSeconds(30),
          Duration.ofSeconds(1),
          Duration.ofSeconds(4),
          Duration.ofSeconds(10),
          Duration.ofMillis(250),
          Duration.ofSeconds(1));

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private final RealTime pace = new RealTime();
  private final Ledger ledger = new Ledger();

  @AfterEach
  void stopTime() {
    pace.close();
  }

  private DashboardCore dashboard(String data, URI broker) {
    return DashboardCore.start(
        CoreSettings.outside(folder.resolve(data), broker)
            .withLogin(BrokerClient.Dashboard.USER, logins().ownPasswordFile())
            .withLinkTimes(QUICK),
        pace,
        pace);
  }

  private DeviceLogins logins() {
    return DeviceLogins.of(folder);
  }

  private void measure(OutboxDevice device, int count) {
    for (int i = 0; i < count; i++) {
      ledger.measure(device);
      LockSupport.parkNanos(1_000_000);
    }
  }

  private void awaitStored(OutboxDevice device) {
    Until.within(PATIENCE, "all is stored", () -> device.mark() == ledger.measured());
  }

  @Test
  @Fault(
      value = "both ends on links that are slow and are cut in the middle of messages",
      promised = "every reading stored once; goes on by itself")
  void slowLinksThatBreak(Witness witness) throws Exception {
    InetAddress here = InetAddress.getLoopbackAddress();
    Paired paired = Paired.with(logins());
    try (ArtemisBroker broker =
        new ArtemisBroker(folder.resolve("broker"), "127.0.0.1", 0, logins())) {
      broker.start();
      try (BadNetwork one = new BadNetwork(here, broker.uri(), 20, 100, witness.random());
          BadNetwork other = new BadNetwork(here, broker.uri(), 20, 100, witness.random());
          DashboardCore core = dashboard("data", one.uri());
          OutboxDevice device = paired.sending(other::uri)) {
        measure(device, witness.times(1500, 6000));
        one.mend();
        other.mend();
        long mended = System.nanoTime();
        Until.within(SLOW, "all is stored", () -> device.mark() == ledger.measured());
        witness.saw(
            "stored %d s after the last cut", (System.nanoTime() - mended) / 1_000_000_000L);
        ledger.assertKeptOnce(core.store());
        witness.saw("%d readings, %d cuts", ledger.measured(), one.cuts() + other.cuts());
        witness.saw("%d sent again", device.resent());
      }
    }
  }

  @Test
  @Fault(
      value = "messages duplicated up to five times and reordered",
      promised = "every reading stored once")
  void duplicatesOutOfOrder(Witness witness) throws Exception {
    Random random = witness.random();
    int readings = witness.times(2000, 20_000);
    Instant begun = Instant.now().minusSeconds(60);
    Paired paired = Paired.in(folder.resolve("data"));
    try (DashboardCore core =
            DashboardCore.start(CoreSettings.embedded(folder.resolve("data"), 0), pace, pace);
        Speaker speaker =
            Speaker.connected(core.brokerUri(), Ledger.CHANNEL.clientId(), paired.device())) {
      speaker.awaitHeard(core, Ledger.CHANNEL);
      long before = core.counts().messages();
      int sent = 0;
      List<Long> window = new ArrayList<>();
      for (long sequence = 1; sequence <= readings; sequence++) {
        for (int copies = 1 + random.nextInt(5); copies > 0; copies--) {
          window.add(sequence);
        }
        if (sequence % 100 == 0) {
          Collections.shuffle(window, random);
          for (long one : window) {
            speaker.say(Ledger.CHANNEL.topic(Topic.READINGS), body(begun, one), false);
          }
          sent += window.size();
          window.clear();
        }
      }
      speaker.finish();
      int all = sent;
      Until.within(PATIENCE, "all messages came", () -> core.counts().messages() >= before + all);
      Until.within(
          PATIENCE,
          "the mark has come up",
          () -> core.store().marks().stream().anyMatch(mark -> mark.mark().sequence() == readings));
      assertEquals(
          LongStream.rangeClosed(1, readings).boxed().toList(),
          core.store().archive().sequences(Ledger.CHANNEL, Ledger.OUTBOX));
      assertEquals(readings, core.counts().samples());
      witness.saw("%d readings in %d messages", readings, sent);
    }
  }

  private static byte[] body(Instant begun, long sequence) {
    return ReadingsBody.write(
        Ledger.CHANNEL,
        new DeviceMessage.Sample(
            new SampleTime.At(begun.plusMillis(sequence)),
            Optional.of(new OutboxPosition(Ledger.OUTBOX, sequence)),
            OptionalDouble.empty(),
            OptionalDouble.empty(),
            List.of(
                Reading.of(Series.TEMPERATURE, Series.CELSIUS, Ledger.temperatureC(sequence)))));
  }

  @Test
  @Fault(
      value = "messages of 64 KiB, one byte more, 1 MB and 20 MB between readings",
      promised = "64 KiB is taken, more is refused and counted, every reading stored once")
  void largeMessages(Witness witness) throws Exception {
    Mosquitto.required();
    Path brokerFolder = Files.createDirectories(folder.resolve("mosquitto"));
    String topic = "layroom/shop/thermostat/readings";
    try (Mosquitto mosquitto = Mosquitto.prepare(brokerFolder, false)) {
      mosquitto.start();
      CoreSettings settings =
          CoreSettings.outside(folder.resolve("data"), mosquitto.uri())
              .withLogin(Mosquitto.USER, mosquitto.passwordFile())
              .withLinkTimes(QUICK);
      try (DashboardCore core = DashboardCore.start(settings, pace, pace);
          OutboxDevice device =
              new OutboxDevice(mosquitto::uri, Ledger.CHANNEL, Ledger.OUTBOX, Mosquitto.LOGIN)
                  .start()) {
        measure(device, 1);
        awaitStored(device);
        int refused = 0;
        for (int bytes : new int[] {65_536, 65_537, 1_000_000, 20_000_000}) {
          Path file = Files.writeString(folder.resolve("message"), padded(bytes));
          assertEquals(0, mosquitto.publish(topic, "", "-f", file.toString()));
          measure(device, 20);
          awaitStored(device);
          refused += bytes > 65_536 ? 1 : 0;
        }
        int expected = refused;
        Until.within(
            PATIENCE,
            "what is too large is counted",
            () -> core.counts().refused(Rejection.OVERSIZED) == expected);
        Until.within(
            PATIENCE,
            "64 KiB are stored",
            () ->
                core.snapshot(Ledger.CHANNEL.room()).value("temperature").isPresent()
                    && core.counts().samples() == ledger.measured() + 1);
        witness.saw("%d refused, %d readings", refused, ledger.measured());
      }
    }
  }

  /** A valid pack of one reading with so many bytes in all. */
  private static String padded(int bytes) {
    String pack =
        "[{\"bn\":\"layroom/shop/thermostat/\",\"bt\":%d,\"n\":\"temperature\",\"u\":\"Cel\",\"v\":18.5}"
            .formatted(Instant.now().getEpochSecond());
    return pack + " ".repeat(bytes - pack.length() - 1) + "]";
  }

  @Test
  @Fault(
      value = "two dashboards on one broker by mistake, one of them stopped for a while",
      promised = "both say so, and each keeps every reading once")
  void twoDashboards(Witness witness) throws Exception {
    Paired paired = Paired.with(logins());
    try (ArtemisBroker broker =
        new ArtemisBroker(folder.resolve("broker"), "127.0.0.1", 0, logins())) {
      broker.start();
      try (DashboardCore one = dashboard("one", broker.uri());
          OutboxDevice device = paired.sending(broker::uri)) {
        measure(device, 200);
        DashboardCore two = dashboard("two", broker.uri());
        try {
          for (DashboardCore core : List.of(one, two)) {
            Until.within(
                PATIENCE,
                "another dashboard is named",
                () -> core.link().trouble().orElse("").contains("another dashboard"));
          }
          measure(device, witness.times(500, 5000));
          awaitStored(device);
        } finally {
          two.close();
        }
        measure(device, 500);
        awaitStored(device);
        two = dashboard("two", broker.uri());
        try {
          measure(device, 500);
          awaitStored(device);
          ledger.assertKeptOnce(one.store());
          DashboardCore second = two;
          Until.within(
              PATIENCE,
              "the second one has what the broker kept for it",
              () ->
                  second.store().archive().sequences(Ledger.CHANNEL, Ledger.OUTBOX).stream()
                      .anyMatch(sequence -> sequence == ledger.measured()));
          List<Long> there = two.store().archive().sequences(Ledger.CHANNEL, Ledger.OUTBOX);
          assertEquals(there.stream().distinct().toList(), there, "nothing twice");
          witness.saw("%d readings, the first has all", ledger.measured());
          witness.saw("the second, started later, has %d", there.size());
        } finally {
          two.close();
        }
      }
    }
  }
}
