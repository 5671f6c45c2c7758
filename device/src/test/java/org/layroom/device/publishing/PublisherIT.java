package org.layroom.device.publishing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.demo.DemoConnection;
import org.layroom.device.demo.RecordedDevice;
import org.layroom.device.demo.RecordedRow;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxAppend;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SampleTime;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;

/** The publisher over a real mosquitto that is slow, dies and comes back. */
class PublisherIT {
  private static final Channel CHANNEL = Channel.of("garage", "bench");
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final Instant START = Instant.parse("2026-03-14T19:00:00Z");
  private static final OutboxOptions OPTIONS =
      new OutboxOptions(OutboxOptions.Sync.NEVER, 64 * 1024, Long.MAX_VALUE);

  @TempDir Path folder;
  private Mosquitto broker;

  @BeforeEach
  void startBroker() throws Exception {
    broker = Mosquitto.start(folder);
  }

  @AfterEach
  void stopBroker() throws Exception {
    broker.close();
  }

  private static Sample sampled(SteppedPace pace, double celsius) {
    return new Sample(
        pace.uptime(),
        pace.now(),
        pace.wallClockSet(),
        List.of(Reading.of("temperature", "Cel", celsius)),
        List.of());
  }

  private Publisher publisher(Outbox outbox, SteppedPace pace) {
    Publisher publisher = new Publisher(BrokerAddress.of(broker.uri()), CHANNEL, outbox, pace);
    publisher.start();
    return publisher;
  }

  /** RFC 8428 over MQTT 3.1.1, as another program than ours sees it. */
  @Test
  void anotherClientSeesReadingsWithQualityOfServiceOneAndARetainedStatus() throws Exception {
    Process subscriber =
        new ProcessBuilder(
                "mosquitto_sub",
                "-h",
                "127.0.0.1",
                "-p",
                "" + broker.port(),
                "-q",
                "1",
                "-t",
                CHANNEL.baseName() + "#",
                "-F",
                "%J",
                "-C",
                "2",
                "-W",
                "60")
            .redirectErrorStream(true)
            .start();
    SteppedPace pace = new SteppedPace(START);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      outbox.append(sampled(pace, 18.25));
      try (Publisher publisher = publisher(outbox, pace)) {
        BufferedReader lines =
            new BufferedReader(
                new InputStreamReader(subscriber.getInputStream(), StandardCharsets.UTF_8));
        String both = lines.readLine() + lines.readLine();
        assertTrue(publisher.awaitConnected(PATIENCE));
        assertTrue(both.contains("\"topic\":\"" + CHANNEL.baseName() + "readings\""), both);
        assertTrue(both.contains("\"topic\":\"" + CHANNEL.baseName() + "status\""), both);
        assertEquals(2, both.split("\"qos\":1", -1).length - 1, both);
        assertTrue(both.contains("18.25"), both);
      }
    } finally {
      subscriber.destroy();
    }
  }

  /** As other programs than ours see and say it: the alarm is kept by the broker. */
  @Test
  void theAlarmIsRetainedAndAnAcknowledgmentComesBack() throws Exception {
    AlarmState leave =
        new AlarmState(
            "leave",
            Optional.of(START),
            "a1b2c3d4-7",
            Optional.empty(),
            List.of("The vapor has leapt up."),
            "Leave now.",
            "Ends when seen.",
            new AlarmState.Uses(Optional.of(START), "Kim", Optional.empty()));
    CompletableFuture<Acknowledgment> heard = new CompletableFuture<>();
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        Publisher publisher = publisher(outbox, new SteppedPace(START))) {
      publisher.onAcknowledged(heard::complete);
      publisher.alarm(leave);
      String seen = client("mosquitto_sub", "alarm", "-C", "1", "-W", "60");
      assertEquals(leave, AlarmState.read(seen.getBytes(StandardCharsets.UTF_8)));
      Acknowledgment kim = new Acknowledgment(leave.id(), "Kim", START);
      client("mosquitto_pub", "acknowledge", "-m", "no acknowledgment");
      client("mosquitto_pub", "acknowledge", "-m", new String(kim.write(), StandardCharsets.UTF_8));
      assertEquals(kim, heard.get(PATIENCE.toSeconds(), TimeUnit.SECONDS));
      String kept = client("mosquitto_sub", "alarm", "-C", "1", "-W", "60", "-F", "%r");
      assertEquals("1", kept, "retained");
    }
  }

  private String client(String program, String lastLevel, String... more) throws Exception {
    List<String> command =
        new ArrayList<>(
            List.of(
                program,
                "-h",
                "127.0.0.1",
                "-p",
                "" + broker.port(),
                "-q",
                "1",
                "-t",
                CHANNEL.baseName() + lastLevel));
    command.addAll(List.of(more));
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    try (InputStream said = process.getInputStream()) {
      return new String(said.readAllBytes(), StandardCharsets.UTF_8).strip();
    } finally {
      process.destroy();
    }
  }

  @Test
  void thousandsOfSamplesAreStoredAfterAnOutageNewestFirst() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    int count = 8143;
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      for (int i = 0; i < count; i++) {
        pace.advanceBy(Duration.ofSeconds(10));
        outbox.append(sampled(pace, 18 + i / 10_000.0));
      }
      try (StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
          Publisher publisher = publisher(outbox, pace)) {
        assertTrue(publisher.awaitStored(PATIENCE), "all is stored");
        DeviceMessage.Sample first = (DeviceMessage.Sample) dashboard.all().get(0);
        assertEquals(count, first.position().orElseThrow().sequence(), "the newest goes first");
        assertEquals(count, dashboard.samples().size());
        assertEquals(List.of(), dashboard.refused());
        assertEquals(0, outbox.waiting());
      }
    }
  }

  @Test
  void aBrokerThatGoesAwayAndComesBackLosesNothing() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        Publisher publisher = publisher(outbox, pace)) {
      for (int round = 0; round < 4; round++) {
        for (int i = 0; i < 200; i++) {
          pace.advanceBy(Duration.ofSeconds(10));
          Sample sample = sampled(pace, 20);
          publisher.offer(outbox.append(sample), sample);
          if (i == 100) {
            broker.kill();
          }
        }
        broker.restart();
        assertTrue(
            publisher.awaitStored(PATIENCE),
            "stored after outage " + round + ", arrived " + dashboard.all().size());
      }
      assertEquals(800, dashboard.samples().size());
      assertEquals(800, dashboard.samples().lastKey());
    }
  }

  /** mosquitto takes a publication that its access list denies and drops it without a word. */
  @Test
  void whatIsDeniedIsSaidAndKeptAndAllOfItComesWhenItIsAllowedAgain() throws Exception {
    broker.close();
    Path access = folder.resolve("acl");
    String others =
        "topic read #\ntopic write layroom/dashboard\ntopic write layroom/+/+/stored\ntopic write "
            + "layroom/+/+/status\n";
    Files.writeString(access, others);
    broker = Mosquitto.start(folder, "allow_anonymous true", "acl_file " + access);
    SteppedPace pace = new SteppedPace(START);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        Publisher publisher =
            new Publisher(
                BrokerAddress.of(broker.uri()),
                CHANNEL,
                outbox,
                pace,
                new ResendPolicy(Duration.ofMillis(200)))) {
      publisher.start();
      for (int i = 0; i < 300; i++) {
        pace.advanceBy(Duration.ofSeconds(10));
        Sample sample = sampled(pace, 20);
        publisher.offer(outbox.append(sample), sample);
      }
      assertTrue(dashboard.await(PATIENCE, () -> !dashboard.statuses().isEmpty()));
      while (!publisher.saysRefused()) {
        assertFalse(publisher.awaitStored(Duration.ofMillis(100)));
      }
      assertEquals(List.of(), dashboard.all());
      assertEquals(300, outbox.waiting(), "nothing is lost");
      Files.writeString(access, others + "topic write layroom/garage/bench/readings\n");
      broker.reload();
      assertTrue(publisher.awaitStored(PATIENCE));
      assertEquals(300, dashboard.samples().size());
      assertFalse(publisher.saysRefused());
    }
  }

  @Test
  void withoutAMarkEverythingIsSentAgain() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        Publisher publisher =
            new Publisher(
                BrokerAddress.of(broker.uri()),
                CHANNEL,
                outbox,
                pace,
                new ResendPolicy(Duration.ofSeconds(2)))) {
      publisher.start();
      dashboard.answers(false);
      Sample sample = sampled(pace, 20);
      publisher.offer(outbox.append(sample), sample);
      assertTrue(dashboard.await(PATIENCE, () -> dashboard.all().size() == 1));
      assertFalse(publisher.awaitStored(Duration.ofMillis(1)));
      dashboard.answers(true);
      assertTrue(publisher.awaitStored(PATIENCE), "sent again and stored");
      assertTrue(dashboard.all().size() >= 2);
    }
  }

  @Test
  void aClockSetAWeekOffDuringARunDoesNotMoveTheSamples() throws Exception {
    SteppedPace pace = new SteppedPace(START.minus(Duration.ofDays(7)));
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      pace.setWallClockSet(false);
      pace.advanceBy(Duration.ofSeconds(10));
      outbox.append(sampled(pace, 18));
      pace.advanceBy(Duration.ofSeconds(10));
      pace.setWallClock(START.plusSeconds(20));
      pace.setWallClockSet(true);
      outbox.append(sampled(pace, 19));
      try (StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
          Publisher publisher = publisher(outbox, pace)) {
        assertTrue(publisher.awaitStored(PATIENCE));
        DeviceMessage.Sample early = dashboard.sample(1);
        DeviceMessage.Sample late = dashboard.sample(2);
        assertEquals(new SampleTime.At(START.plusSeconds(10)), early.time());
        assertEquals(new SampleTime.At(START.plusSeconds(20)), late.time());
        assertEquals(OptionalDouble.of(10), early.uptimeSeconds());
        assertEquals(OptionalDouble.of(20), early.sentUptimeSeconds());
      }
    }
  }

  @Test
  void withoutASetClockOnlyAgesAreSent() throws Exception {
    SteppedPace pace = new SteppedPace(Instant.EPOCH);
    pace.setWallClockSet(false);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      outbox.append(sampled(pace, 18));
      pace.advanceBy(Duration.ofSeconds(90));
      try (StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
          Publisher publisher = publisher(outbox, pace)) {
        assertTrue(publisher.awaitStored(PATIENCE));
        assertEquals(new SampleTime.Ago(Duration.ofSeconds(90)), dashboard.sample(1).time());
        assertTrue(dashboard.await(PATIENCE, () -> !dashboard.statuses().isEmpty()));
        assertEquals(Optional.empty(), dashboard.statuses().get(0).since());
      }
    }
  }

  @Test
  void anEarlierStartThatNeverKnewTheTimeIsMarkedAsAGuess() throws Exception {
    SteppedPace before = new SteppedPace(START);
    before.setWallClockSet(false);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      outbox.append(sampled(before, 18));
    }
    SteppedPace pace = new SteppedPace(START.plusSeconds(3600));
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        Publisher publisher = publisher(outbox, pace)) {
      assertTrue(publisher.awaitStored(PATIENCE));
      DeviceMessage.Sample sample = dashboard.sample(1);
      assertEquals(new SampleTime.At(START), sample.time());
      assertTrue(sample.readings().get(0).quality() instanceof Quality.Suspect);
    }
  }

  @Test
  void lostSamplesAreToldSoThatTheMarkCanPassThem() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    Path outboxFolder = folder.resolve("outbox");
    try (Outbox outbox =
        Outbox.open(outboxFolder, new OutboxOptions(OutboxOptions.Sync.NEVER, 1024, 30))) {
      for (int i = 0; i < 100; i++) {
        pace.advanceBy(Duration.ofSeconds(10));
        outbox.append(sampled(pace, 18));
      }
      try (StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
          Publisher publisher = publisher(outbox, pace)) {
        assertTrue(publisher.awaitStored(PATIENCE));
        assertTrue(dashboard.all().stream().anyMatch(m -> m instanceof DeviceMessage.Lost));
        assertEquals(100, dashboard.samples().lastKey());
      }
    }
  }

  @Test
  void aSampleThatTheDiskRefusedIsSentAllTheSame() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS);
        StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        Publisher publisher = publisher(outbox, pace)) {
      publisher.offer(new OutboxAppend.NotKept("disk full"), sampled(pace, 21));
      publisher.state(List.of(new PartFault("outbox", "disk full")), List.of());
      assertTrue(dashboard.await(PATIENCE, () -> !dashboard.all().isEmpty()));
      assertEquals(Optional.empty(), ((DeviceMessage.Sample) dashboard.all().get(0)).position());
      assertTrue(
          dashboard.await(
              PATIENCE, () -> dashboard.statuses().stream().anyMatch(s -> !s.faults().isEmpty())));
    }
  }

  @Test
  void aPasswordIsReadFromItsFileAndGoodbyeIsSaid() throws Exception {
    broker.close();
    Path passwords = folder.resolve("passwords");
    Process made =
        new ProcessBuilder("mosquitto_passwd", "-b", "-c", passwords.toString(), "bench", "s3cret")
            .start();
    assertEquals(0, made.waitFor());
    Path file = Files.writeString(folder.resolve("password"), "s3cret\n");
    broker = Mosquitto.start(folder, "allow_anonymous false", "password_file " + passwords);
    SteppedPace pace = new SteppedPace(START);
    BrokerAddress address =
        new BrokerAddress(
            broker.uri(), Optional.of("bench"), Optional.of(new BrokerPassword.InFile(file)));
    try (Outbox outbox = Outbox.open(folder.resolve("outbox"), OPTIONS)) {
      Publisher publisher = new Publisher(address, CHANNEL, outbox, pace);
      publisher.start();
      assertTrue(publisher.awaitConnected(PATIENCE));
      publisher.close();
    }
    Process subscriber =
        new ProcessBuilder(
                "mosquitto_sub",
                "-h",
                "127.0.0.1",
                "-p",
                "" + broker.port(),
                "-u",
                "bench",
                "-P",
                "s3cret",
                "-t",
                CHANNEL.baseName() + "status",
                "-C",
                "1",
                "-W",
                "30")
            .start();
    byte[] retained = subscriber.getInputStream().readAllBytes();
    assertEquals(DeviceStatus.OFFLINE, DeviceStatus.read(retained));
  }

  @Test
  void aRecordingGoesThroughInItsOrderWithItsOwnTimes() throws Exception {
    SteppedPace pace = new SteppedPace(START);
    try (StandInDashboard dashboard = StandInDashboard.listen(broker.uri(), CHANNEL);
        RecordedDevice device =
            RecordedDevice.open(
                pace,
                new DemoConnection(
                    broker.uri(), CHANNEL, Optional.empty(), folder.resolve("outbox")))) {
      for (int i = 0; i < 2000; i++) {
        device.play(
            new RecordedRow(
                START.plusSeconds(60L * i),
                OptionalDouble.of(20 + Math.sin(i / 100.0)),
                i % 3 == 0 ? OptionalDouble.empty() : OptionalDouble.of(50),
                OptionalDouble.of(19),
                OptionalDouble.empty(),
                OptionalDouble.of(30_000 - i)));
      }
      assertTrue(device.awaitStored(PATIENCE));
      assertEquals(2000, device.measured());
      assertEquals(2000, dashboard.samples().size());
      long expected = 1;
      for (DeviceMessage message : dashboard.all()) {
        DeviceMessage.Sample sample = (DeviceMessage.Sample) message;
        assertEquals(expected, sample.position().orElseThrow().sequence(), "in order");
        int i = (int) expected - 1;
        assertEquals(new SampleTime.At(START.plusSeconds(60L * i)), sample.time());
        Reading temperature = sample.readings().get(0);
        assertEquals(20 + Math.sin(i / 100.0), temperature.value().orElseThrow(), 0.00134);
        assertTrue(temperature.quality().isGood(), temperature.quality().words());
        expected++;
      }
    }
  }
}
