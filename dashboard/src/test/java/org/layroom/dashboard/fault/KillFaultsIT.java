package org.layroom.dashboard.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import java.util.stream.LongStream;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.cli.ShippedJars;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.ChildDashboard;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.outbox.OutboxSample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;

/** SIGKILL at random moments: whatever dies, every reading is in the store exactly once. */
@ExtendWith(Campaign.class)
@Timeout(2400)
class KillFaultsIT {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final int HEAP_MIB = 96;
  private static final Channel BOARD = Channel.of("annex", "board");
  private static final Instant FIRST = Instant.parse("2026-03-02T06:00:00Z");

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder;

  private volatile URI broker = URI.create("tcp://127.0.0.1:1");
  private final Ledger ledger = new Ledger();

  /** Measures for a random while, a reading every two milliseconds or so. */
  private void measureForAWhile(OutboxDevice device, Random random) {
    long end = System.nanoTime() + Duration.ofMillis(100 + random.nextInt(1500)).toNanos();
    while (System.nanoTime() - end < 0) {
      ledger.measure(device);
      LockSupport.parkNanos(Duration.ofMillis(2).toNanos());
    }
  }

  @Test
  @Fault(
      value = "dashboard with the broker inside it killed",
      promised = "every reading stored once; goes on by itself")
  void theDashboardWithItsBrokerIsKilled(Witness witness) throws Exception {
    Random random = witness.random();
    int kills = witness.times(5, 100);
    Path data = Files.createDirectories(folder.resolve("data"));
    Paired paired = Paired.in(data);
    ChildDashboard child = ChildDashboard.start(data, HEAP_MIB, Optional.empty());
    broker = child.broker();
    try (OutboxDevice device = paired.sending(() -> broker)) {
      for (int kill = 0; kill < kills; kill++) {
        measureForAWhile(device, random);
        child.kill();
        measureForAWhile(device, random);
        child = ChildDashboard.start(data, HEAP_MIB, Optional.empty());
        broker = child.broker();
      }
      Until.within(PATIENCE, "all is stored", () -> device.mark() == ledger.measured());
      witness.saw("%d kills, %d readings", kills, ledger.measured());
      witness.saw("%d sent again", device.resent());
    } finally {
      child.kill();
    }
    assertStored(data);
  }

  @Test
  @Fault(
      value = "mosquitto killed",
      promised = "every reading stored once; dashboard and device find it again by themselves")
  void anOutsideBrokerIsKilled(Witness witness) throws Exception {
    Mosquitto.required();
    Random random = witness.random();
    int kills = witness.times(5, 100);
    Path data = Files.createDirectories(folder.resolve("data"));
    Path brokerFolder = Files.createDirectories(folder.resolve("mosquitto"));
    DeviceLogins logins = DeviceLogins.of(data);
    Paired paired = Paired.with(logins);
    try (Mosquitto mosquitto = Mosquitto.preparePaired(brokerFolder, logins)) {
      mosquitto.start();
      try (ChildDashboard child = ChildDashboard.start(data, HEAP_MIB, Optional.of(mosquitto));
          OutboxDevice device = paired.sending(mosquitto::uri)) {
        for (int kill = 0; kill < kills; kill++) {
          measureForAWhile(device, random);
          mosquitto.kill();
          measureForAWhile(device, random);
          mosquitto.start();
        }
        Until.within(PATIENCE, "all is stored", () -> device.mark() == ledger.measured());
        assertTrue(child.isAlive());
        witness.saw("%d kills, %d readings", kills, ledger.measured());
        witness.saw("%d sent again", device.resent());
      }
    }
    assertStored(data);
  }

  /**
   * A board without an outbox says its readings once: the broker has them until they are stored.
   */
  @Test
  @Fault(
      value = "dashboard killed at a broker of the shop's own, a board without an outbox beside it",
      promised = "every reading of both stored once; goes on by itself")
  void theDashboardIsKilledAtAnOutsideBroker(Witness witness) throws Exception {
    Mosquitto.required();
    Random random = witness.random();
    int kills = witness.times(5, 100);
    Path data = Files.createDirectories(folder.resolve("data"));
    Path brokerFolder = Files.createDirectories(folder.resolve("mosquitto"));
    DeviceLogins logins = DeviceLogins.of(data);
    Paired paired = Paired.with(logins);
    OutboxDevice.Login board = new OutboxDevice.Login(BOARD.user(), logins.pair(BOARD));
    long said = 0;
    try (Mosquitto mosquitto = Mosquitto.preparePaired(brokerFolder, logins)) {
      mosquitto.start();
      ChildDashboard child = ChildDashboard.start(data, HEAP_MIB, Optional.of(mosquitto));
      try (OutboxDevice device = paired.sending(mosquitto::uri);
          Speaker speaker = Speaker.connected(mosquitto.uri(), BOARD.clientId(), board)) {
        ledger.measure(device);
        Until.within(PATIENCE, "the dashboard listens", () -> device.mark() == 1);
        for (int kill = 0; kill < kills; kill++) {
          said = say(speaker, said);
          measureSome(device, random);
          child.kill();
          said = say(speaker, said);
          measureSome(device, random);
          child = ChildDashboard.start(data, HEAP_MIB, Optional.of(mosquitto));
        }
        ledger.measure(device);
        Until.within(PATIENCE, "all is stored", () -> device.mark() == ledger.measured());
      } finally {
        child.close();
      }
    }
    ledger.assertKeptOnce(data);
    try (Store store = StoreFolder.open(data)) {
      assertEquals(
          said,
          store.history().countReadings(BOARD.room(), Instant.EPOCH, FIRST.plusSeconds(said)));
    }
    witness.saw("%d kills, %d readings, %d without an outbox", kills, ledger.measured(), said);
  }

  /** So few that the broker drops none: mosquitto keeps 1000 messages for one that is away. */
  private void measureSome(OutboxDevice device, Random random) {
    for (int i = random.nextInt(20); i > 0; i--) {
      ledger.measure(device);
      LockSupport.parkNanos(Duration.ofMillis(random.nextInt(100)).toNanos());
    }
  }

  /** Ten readings of the board, each of its own second. */
  private static long say(Speaker speaker, long said) throws MqttException {
    long now = said;
    for (int i = 0; i < 10; i++) {
      Instant time = FIRST.plusSeconds(now++);
      speaker.say(
          BOARD.topic(Topic.READINGS),
          ReadingsBody.write(
              BOARD,
              new DeviceMessage.Sample(
                  new SampleTime.At(time),
                  Optional.empty(),
                  OptionalDouble.empty(),
                  OptionalDouble.empty(),
                  List.of(Reading.of(Series.TEMPERATURE, Series.CELSIUS, 20)))),
          false);
    }
    speaker.finish();
    return now;
  }

  private void assertStored(Path data) {
    ledger.assertKeptOnce(data);
    try (Store store = StoreFolder.open(data)) {
      assertEquals(
          List.of(new OutboxMark(Ledger.CHANNEL, new StoredMark(Ledger.OUTBOX, ledger.measured()))),
          store.marks());
    }
  }

  @Test
  @Fault(
      value = "device (the shipped jar, 500 samples a second) killed while it writes and sends",
      promised = "no number given twice, no gap; outbox and store together hold everything")
  void theDeviceIsKilled(Witness witness) throws Exception {
    Random random = witness.random();
    int kills = witness.times(4, 100);
    Path data = Files.createDirectories(folder.resolve("data"));
    Path outboxFolder = folder.resolve("device").resolve("outbox");
    Paired paired = Paired.in(data);
    try (ChildDashboard child = ChildDashboard.start(data, HEAP_MIB, Optional.empty())) {
      Path config =
          paired.settings(
              folder, child.broker(), folder.resolve("device"), "sample-seconds=1\nspeed=500\n");
      String name = "";
      long last = 0;
      for (int kill = 0; kill < kills; kill++) {
        ShippedJars.Running device = device(config);
        LockSupport.parkNanos(Duration.ofMillis(100 + random.nextInt(1400)).toNanos());
        device.kill();
        try (Outbox outbox = Outbox.open(outboxFolder, options())) {
          assertTrue(name.isEmpty() || name.equals(outbox.name()), "one outbox for all starts");
          assertTrue(outbox.last() >= last, "numbers only go up");
          name = outbox.name();
          last = outbox.last();
        }
      }
      try (ShippedJars.Running device = device(config)) {
        assertTrue(device.process().isAlive());
        awaitStored(outboxFolder, child);
      }
      child.kill();
      assertNothingBetween(data, outboxFolder, name, witness, kills);
    }
  }

  private static OutboxOptions options() {
    return OutboxOptions.standard(Duration.ofSeconds(1));
  }

  private ShippedJars.Running device(Path config) throws IOException {
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        config.toString());
  }

  /** The backlog of the last kills is taken: the outbox has let whole files go. */
  private static void awaitStored(Path outbox, ChildDashboard child) throws IOException {
    long newest = newestFile(outbox);
    Until.within(
        PATIENCE,
        "what was there is stored",
        () -> {
          assertTrue(child.isAlive());
          try {
            return mark(outbox) > newest;
          } catch (IOException e) {
            return false;
          }
        });
  }

  private static long newestFile(Path outbox) throws IOException {
    try (var files = Files.list(outbox)) {
      return files
          .map(file -> file.getFileName().toString())
          .filter(name -> name.endsWith(".samples"))
          .mapToLong(name -> Long.parseLong(name.replaceAll("[^0-9]", "")))
          .max()
          .orElse(0);
    }
  }

  private static long mark(Path outbox) throws IOException {
    Path mark = outbox.resolve("stored");
    return Files.exists(mark) ? Long.parseLong(Files.readString(mark).strip()) : 0;
  }

  private static void assertNothingBetween(
      Path data, Path outboxFolder, String name, Witness witness, int kills) throws IOException {
    try (Outbox outbox = Outbox.open(outboxFolder, options());
        Store store = StoreFolder.open(data)) {
      List<Long> stored =
          store.archive().sequences(Ledger.CHANNEL, name).stream().sorted().toList();
      long upTo =
          store.marks().stream()
              .filter(mark -> mark.mark().outbox().equals(name))
              .mapToLong(mark -> mark.mark().sequence())
              .max()
              .orElse(0);
      assertTrue(upTo > 0);
      assertEquals(
          LongStream.rangeClosed(1, upTo).boxed().toList(),
          stored.stream().filter(sequence -> sequence <= upTo).toList(),
          "stored once without a gap up to the mark");
      List<Long> waiting =
          outbox.read(upTo + 1, Integer.MAX_VALUE).stream()
              .map(OutboxSample::sequence)
              .filter(sequence -> sequence > upTo)
              .toList();
      assertEquals(
          LongStream.rangeClosed(upTo + 1, outbox.last()).boxed().toList(),
          waiting,
          "the outbox holds the rest");
      witness.saw("%d kills, %d samples", kills, outbox.last());
      witness.saw("%d stored up to the last kill, %d wait on disk", upTo, waiting.size());
    }
  }
}
