package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomVerdict;

/** A device paired as a person does it, with the shipped jars: shown here, typed there. */
class PairDeviceIT {
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  private final HttpClient http = HttpClient.newHttpClient();

  private record Ended(int status, String said) {}

  private static Ended run(String typed, List<String> command) throws Exception {
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    process.getOutputStream().write(typed.getBytes(StandardCharsets.UTF_8));
    process.getOutputStream().close();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertTrue(process.waitFor(2, TimeUnit.MINUTES));
    return new Ended(process.exitValue(), said);
  }

  private static Ended layroom(String... arguments) throws Exception {
    return run("", command(ShippedJars.DASHBOARD, arguments));
  }

  private static List<String> command(Path jar, String... arguments) {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-jar",
                jar.toString()));
    command.addAll(List.of(arguments));
    return command;
  }

  private Ended pair(String broker, String password, Path settings) throws Exception {
    return run(
        broker + "\n" + password + "\n",
        command(ShippedJars.DEVICE, "pair", "--config", settings.toString()));
  }

  private Path deviceSettings() throws IOException {
    return Files.writeString(
        folder.resolve("device.properties"),
        "speed=30\nsample-seconds=1\ndata=" + folder.resolve("device") + "\n");
  }

  private ShippedJars.Running device() throws IOException {
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        deviceSettings().toString());
  }

  private ShippedJars.Running dashboard() throws IOException {
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nzone=UTC\ndata=data\n");
    return ShippedJars.start(
        ShippedJars.DASHBOARD,
        "Ready",
        folder.resolve("dashboard.log"),
        "serve",
        "--config",
        config.toString());
  }

  private JsonNode room(String page) {
    try {
      HttpResponse<String> answer =
          http.send(
              HttpRequest.newBuilder(URI.create(page + "api/room"))
                  .timeout(Duration.ofMinutes(2))
                  .build(),
              HttpResponse.BodyHandlers.ofString());
      return JsonMapper.builder().build().readTree(answer.body());
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static String password(Ended shown) {
    return shown
        .said()
        .lines()
        .map(String::strip)
        .filter(line -> line.matches("[a-z2-9]{5}(-[a-z2-9]{5}){3}"))
        .findFirst()
        .orElseThrow(() -> new AssertionError("no password in " + shown.said()));
  }

  private boolean logSays(String name, String words) {
    try {
      return Files.readString(folder.resolve(name)).contains(words);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void shownOnceTypedOnceAndTakenAwayWhileItIsConnected() throws Exception {
    try (ShippedJars.Running dashboard = dashboard()) {
      String page = dashboard.after("Page:");
      String broker = dashboard.after("Broker:").replace("tcp:", "mqtt:");
      String password = password(layroom("pair-device", "bench", "--url", page));
      Ended refused = pair(broker, "abcde-fghjk-mnpqr-stuvw", deviceSettings());
      assertEquals(1, refused.status(), refused.said());
      assertTrue(refused.said().contains("Nothing was changed"), refused.said());
      Path login = folder.resolve("device").resolve("broker-login");
      assertFalse(Files.exists(login));
      assertEquals(2, pair(broker, "no password", deviceSettings()).status());
      Ended paired = pair(broker, " " + password.toUpperCase(Locale.ROOT), deviceSettings());
      assertEquals(0, paired.status(), paired.said());
      assertFalse(paired.said().contains(password));
      assertEquals(
          "rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(login)));
      try (ShippedJars.Running device = device()) {
        assertTrue(device.process().isAlive());
        Until.within(
            SOON, "its readings come", () -> room(page).at("/series/temperature").has("value"));
        assertEquals(0, layroom("revoke-device", "bench", "--url", page).status());
        Until.within(
            SOON, "it says why once", () -> logSays("device.log", "refused this device's name"));
        Until.within(
            SOON,
            "its page says offline",
            () -> room(page).at("/devices/0/state").asText().equals("offline"));
        assertEquals(2, layroom("revoke-device", "bench", "--url", page).status());
      }
      String second = password(layroom("pair-device", "bench", "--url", page));
      assertEquals(0, pair("", second, deviceSettings()).status());
      try (ShippedJars.Running device = device()) {
        assertTrue(device.process().isAlive());
        Until.within(
            SOON,
            "it is heard again",
            () -> room(page).at("/devices/0/state").asText().equals("online"));
        Path can = folder.resolve("device").resolve("can.json");
        Until.within(SOON, "it has heard of the chosen can", () -> Files.exists(can));
        assertTrue(RoomVerdict.read(Files.readAllBytes(can)).temperatureC().isPresent());
      }
      assertFalse(logSays("dashboard.log", password));
      assertFalse(logSays("device.log", password));
    }
  }

  private Ended pairHere(String page, String name, String broker) throws Exception {
    Path settings =
        Files.writeString(
            folder.resolve(name + ".properties"),
            "speed=30\nsample-seconds=1\nbroker.uri=%s\ndata=%s\n"
                .formatted(broker, folder.resolve(name)));
    return run(
        "",
        command(
            ShippedJars.DEVICE, "pair", "--here", "--page", page, "--config", settings.toString()));
  }

  /** As after an upgrade: a device that never needed a login runs, is named, and loses nothing. */
  @Test
  void aDeviceOnTheDashboardsMachineIsNamedAndGetsItsLoginByOneCommand() throws Exception {
    Path data = folder.resolve("data");
    try (ShippedJars.Running dashboard = dashboard()) {
      String page = dashboard.after("Page:");
      String broker = dashboard.after("Broker:").replace("tcp:", "mqtt:");
      Path settings =
          Files.writeString(
              deviceSettings(), "broker.uri=" + broker + "\n", StandardOpenOption.APPEND);
      try (ShippedJars.Running unpaired =
          ShippedJars.start(
              ShippedJars.DEVICE,
              "layroom-device ready",
              folder.resolve("device.log"),
              "--simulate",
              "--config",
              settings.toString())) {
        assertTrue(unpaired.process().isAlive());
        Until.within(
            SOON,
            "the page names it",
            () -> room(page).path("notices").toString().contains("pair-device bench --room shop"));
        assertTrue(room(page).path("devices").isEmpty(), "nothing of it was heard");
      }
      Ended paired = pairHere(page, "device", broker);
      assertEquals(0, paired.status(), paired.said());
      assertFalse(
          paired.said().matches("(?s).*[a-z2-9]{5}(-[a-z2-9]{5}){3}.*"), "no password is shown");
      Ended again = pairHere(page, "device", broker);
      assertEquals(1, again.status());
      assertTrue(again.said().contains("paired already"), again.said());
      Ended twin = pairHere(page, "twin", broker);
      assertEquals(1, twin.status());
      assertTrue(twin.said().contains("Another device is paired as shop.bench"), twin.said());
      try (ShippedJars.Running device = device()) {
        assertTrue(device.process().isAlive());
        Until.within(
            SOON, "its readings come", () -> room(page).at("/series/temperature").has("value"));
        Until.within(SOON, "it is named no more", () -> room(page).path("notices").isEmpty());
      }
    }
    try (Store store = StoreFolder.open(data)) {
      String outbox = store.marks().get(0).mark().outbox();
      assertEquals(
          1L,
          store.archive().sequences(Channel.of("shop", "bench"), outbox).get(0),
          "what it measured while it was refused is stored");
    }
  }

  @Test
  void pairingHereSaysWhatIsInItsWay() throws Exception {
    Ended nobody = pairHere("http://127.0.0.1:1", "device", "mqtt://localhost:1883");
    assertEquals(1, nobody.status());
    assertTrue(nobody.said().contains("no dashboard answers at"), nobody.said());
    Ended elsewhere = pairHere("http://127.0.0.1:1", "device", "mqtt://192.0.2.7:1883");
    assertEquals(1, elsewhere.status());
    assertTrue(elsewhere.said().contains("not on this machine"), elsewhere.said());
    try (ShippedJars.Running dashboard = dashboard()) {
      Ended other = pairHere(dashboard.after("Page:"), "device", "mqtt://localhost:1");
      assertEquals(1, other.status());
      assertTrue(other.said().contains("Make them one port"), other.said());
    }
    assertFalse(Files.exists(folder.resolve("device").resolve("broker-login")));
  }
}
