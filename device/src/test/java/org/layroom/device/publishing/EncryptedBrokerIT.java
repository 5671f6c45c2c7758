package org.layroom.device.publishing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.encryption.TrustedAuthority;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxOptions;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.testing.Mosquitto;
import org.layroom.device.testing.StandInDashboard;
import org.layroom.testing.TestAuthority;

/** Encrypted connections to a real mosquitto, with certificates made by Java's keytool. */
class EncryptedBrokerIT {
  private static final Channel CHANNEL = Channel.of("garage", "bench");
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  @TempDir Path folder;

  private Mosquitto broker(TestAuthority by, String... more) throws IOException {
    String[] settings = {
      "allow_anonymous true", "certfile " + by.certificate(), "keyfile " + by.key()
    };
    List<String> all = new ArrayList<>(List.of(settings));
    all.addAll(List.of(more));
    return Mosquitto.start(folder, all.toArray(new String[0]));
  }

  private static BrokerAddress address(int port, Optional<Path> caFile) {
    return new BrokerAddress(
        URI.create("mqtts://127.0.0.1:" + port), Optional.of("bench"), Optional.empty(), caFile);
  }

  private static String refusal(BrokerAddress address) {
    IOException said =
        assertThrows(IOException.class, () -> BrokerLink.tryOnce(address, CHANNEL, "any"));
    return String.valueOf(said.getMessage());
  }

  /** A look without coming in says the same as coming in. */
  private static void refused(BrokerAddress address, String... words) {
    BrokerCheck look = BrokerCheck.at(address);
    assertFalse(look.well(), look.line());
    for (String said : List.of(refusal(address), look.line())) {
      for (String word : words) {
        assertTrue(said.contains(word), said + " should name " + word);
      }
      assertFalse(said.contains("Exception"), said);
    }
  }

  @Test
  void aBrokerIsBelievedWhenTheGivenAuthorityHasSignedAndElseItSaysWhatToChange() throws Exception {
    TestAuthority house = TestAuthority.make(folder, "house", "ip:127.0.0.1");
    TestAuthority another = TestAuthority.make(folder, "another", "ip:127.0.0.1");
    try (Mosquitto broker = broker(house)) {
      BrokerAddress right = address(broker.port(), Optional.of(house.authority()));
      assertEquals(BrokerLink.Trial.IN, BrokerLink.tryOnce(right, CHANNEL, "any"));
      BrokerCheck look = BrokerCheck.at(right);
      assertTrue(look.well() && look.line().startsWith("found"), look.line());
      assertTrue(look.line().contains("encrypted, certificate valid until 20"), look.line());
      refused(
          address(broker.port(), Optional.of(another.authority())),
          "not signed by the authority in " + another.authority(),
          "copy");
      refused(address(broker.port(), Optional.empty()), "public authority", "broker.ca-file");
    }
  }

  @Test
  void aCertificateForAnotherNameOrOfAnotherTimeIsNotBelieved() throws Exception {
    TestAuthority elsewhere = TestAuthority.make(folder, "elsewhere", "dns:elsewhere.example");
    try (Mosquitto broker = broker(elsewhere)) {
      refused(
          address(broker.port(), Optional.of(elsewhere.authority())),
          "not valid for the name \"127.0.0.1\"",
          "broker.uri");
    }
    TestAuthority old =
        TestAuthority.make(
            folder, "old", "ip:127.0.0.1", "-startdate", "2020/01/01", "-validity", "30");
    try (Mosquitto broker = broker(old)) {
      refused(address(broker.port(), Optional.of(old.authority())), "expired", "clock");
    }
    TestAuthority early = TestAuthority.make(folder, "early", "ip:127.0.0.1", "-startdate", "+30d");
    try (Mosquitto broker = broker(early)) {
      refused(address(broker.port(), Optional.of(early.authority())), "not valid yet", "clock");
    }
  }

  @Test
  void theWrongKindOfPortIsNamed() throws Exception {
    try (Mosquitto broker = Mosquitto.start(folder)) {
      refused(address(broker.port(), Optional.empty()), "mqtts:// port", "8883");
    }
    TestAuthority house = TestAuthority.make(folder, "house", "ip:127.0.0.1");
    try (Mosquitto broker = broker(house)) {
      String said = refusal(BrokerAddress.of(broker.uri()));
      assertTrue(said.contains("use mqtts://"), said);
    }
  }

  @Test
  void aBrokerThatIsNotThereIsNoFaultOfTheSettings() throws Exception {
    int free;
    try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      free = socket.getLocalPort();
    }
    BrokerCheck look = BrokerCheck.at(BrokerAddress.of(URI.create("mqtt://127.0.0.1:" + free)));
    assertTrue(look.well() && look.line().contains("no answer"), look.line());
  }

  @Test
  void aFileWithoutACertificateIsSaid() throws IOException {
    Path empty = Files.createFile(folder.resolve("empty.pem"));
    Path rubbish = Files.writeString(folder.resolve("rubbish.pem"), "-----BEGIN CERTIFICATE-----");
    Path missing = folder.resolve("missing.pem");
    for (Path file : List.of(empty, rubbish, missing)) {
      IOException said =
          assertThrows(IOException.class, () -> new TrustedAuthority(Optional.of(file)).sockets());
      assertTrue(String.valueOf(said.getMessage()).contains("broker.ca-file " + file), "" + said);
    }
  }

  /** The device meets a broker that it does not believe, until its settings are put right. */
  @Test
  void nothingIsLostWhileTheAuthorityIsTheWrongOne() throws Exception {
    TestAuthority house = TestAuthority.make(folder, "house", "ip:127.0.0.1");
    TestAuthority another = TestAuthority.make(folder, "another", "ip:127.0.0.1");
    Path named = Files.copy(another.authority(), folder.resolve("ca.pem"));
    int inside;
    try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      inside = socket.getLocalPort();
    }
    SteppedPace pace = new SteppedPace(Instant.parse("2026-03-14T19:00:00Z"));
    OutboxOptions options = new OutboxOptions(OutboxOptions.Sync.NEVER, 64 * 1024, Long.MAX_VALUE);
    try (Mosquitto broker = broker(house, "listener " + inside + " 127.0.0.1");
        StandInDashboard dashboard =
            StandInDashboard.listen(URI.create("mqtt://127.0.0.1:" + inside), CHANNEL);
        Outbox outbox = Outbox.open(folder.resolve("outbox"), options);
        Publisher publisher =
            new Publisher(address(broker.port(), Optional.of(named)), CHANNEL, outbox, pace)) {
      publisher.start();
      for (int minute = 0; minute < 100; minute++) {
        pace.pause(Duration.ofMinutes(1));
        Sample sampled = sampled(pace);
        publisher.offer(outbox.append(sampled), sampled);
      }
      assertFalse(publisher.awaitConnected(Duration.ofSeconds(2)));
      assertEquals(List.of(), dashboard.all(), "nothing is sent to whom is not believed");
      Files.copy(house.authority(), named, StandardCopyOption.REPLACE_EXISTING);
      assertTrue(publisher.awaitStored(PATIENCE), "tried again with the file as it is now");
      assertEquals(100, dashboard.samples().size());
    }
  }

  private static Sample sampled(SteppedPace pace) {
    return new Sample(
        pace.uptime(),
        pace.now(),
        pace.wallClockSet(),
        List.of(Reading.of("temperature", "Cel", 18)),
        List.of());
  }
}
