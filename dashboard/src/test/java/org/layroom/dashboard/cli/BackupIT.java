package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.RandomAccessFile;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.store.ArchivedSample;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;

/**
 * A restore done by the shipped jar in an empty home, and a damaged card told by the page's API.
 */
class BackupIT {
  private static final int ENOUGH = 100;
  private static final Duration SOON = Duration.ofSeconds(90);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  private static final Channel BENCH = Channel.of("shop", "bench");

  private final HttpClient http = HttpClient.newHttpClient();

  private ShippedJars.Running serve(String home) throws IOException {
    Path config =
        Files.writeString(
            folder.resolve(home + ".properties"),
            "http.port=0\nbroker.port=0\nzone=UTC\ndata=" + home + "\n");
    return ShippedJars.start(
        ShippedJars.DASHBOARD,
        "Ready",
        folder.resolve(home + ".log"),
        "serve",
        "--config",
        config.toString());
  }

  private ShippedJars.Running device(String broker, String password) throws IOException {
    Path secret = Files.writeString(folder.resolve("device-password"), password + "\n");
    Path config =
        Files.writeString(
            folder.resolve("device.properties"),
            "speed=30\nsample-seconds=1\ndata="
                + folder.resolve("device")
                + "\nbroker.uri="
                + broker
                + "\nbroker.user="
                + BENCH.user()
                + "\nbroker.password-file="
                + secret
                + "\n");
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        config.toString());
  }

  private String get(String uri) {
    return send(HttpRequest.newBuilder(URI.create(uri)));
  }

  private String send(HttpRequest.Builder request) {
    try {
      HttpResponse<String> response =
          http.send(
              request.timeout(Duration.ofMinutes(2)).build(), HttpResponse.BodyHandlers.ofString());
      assertEquals(200, response.statusCode(), response.body());
      return response.body();
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static JsonNode json(String text) throws IOException {
    return JsonMapper.builder().build().readTree(text);
  }

  private List<String> readings(ShippedJars.Running dashboard) {
    Instant to = Instant.now().plus(Duration.ofDays(1));
    String window = "?from=" + to.minus(Duration.ofDays(2)) + "&to=" + to;
    return get(dashboard.after("Page:") + "api/export" + window).lines().toList();
  }

  /**
   * Every sample that a home keeps. Not by the rows of an export: the device's clock runs ahead, so
   * that the dashboard keeps samples under the time they came, several under one, and an export has
   * one row for each time.
   */
  private Set<ArchivedSample> stored(String home) throws IOException {
    Set<ArchivedSample> samples = new LinkedHashSet<>();
    try (Store store = StoreFolder.open(folder.resolve(home))) {
      store
          .archive()
          .export(
              RoomName.of("shop"),
              Instant.EPOCH,
              Instant.now().plus(Duration.ofDays(300)),
              samples::add);
    }
    return samples;
  }

  /** Runs one command of the shipped jar to its end. */
  private void command(String answer, String... arguments) throws Exception {
    try (ShippedJars.Running running =
        ShippedJars.start(
            ShippedJars.DASHBOARD, answer, folder.resolve("command.log"), arguments)) {
      assertTrue(running.process().waitFor(2, TimeUnit.MINUTES));
      assertEquals(0, running.process().exitValue());
    }
  }

  @Test
  void whatWasSavedWhileItRanIsThereAgainInAnEmptyHome() throws Exception {
    String backup = folder.resolve("shop.zip").toString();
    String password = DeviceLogins.of(folder.resolve("old")).pair(BENCH);
    try (ShippedJars.Running dashboard = serve("old")) {
      ShippedJars.Running device = device(dashboard.after("Broker:"), password);
      Until.within(
          SOON, "a hundred readings are stored", () -> readings(dashboard).size() > ENOUGH);
      command("Saved", "backup", backup, "--url", dashboard.after("Page:"));
      device.kill();
    }
    assertTrue(Files.readString(folder.resolve("command.log")).isEmpty());
    command("Restored", "restore", backup, "--data", folder.resolve("fresh").toString());
    try (ShippedJars.Running dashboard = serve("fresh")) {
      int rows = readings(dashboard).size();
      assertTrue(rows > ENOUGH, "rows after: " + rows);
    }
    Set<ArchivedSample> before = stored("old");
    assertEquals(
        List.of(),
        stored("fresh").stream().filter(sample -> !before.contains(sample)).toList(),
        "no other samples than there were");
  }

  @Test
  void aDamagedStoreIsToldUntilSomebodyHasReadIt() throws Exception {
    try (ShippedJars.Running dashboard = serve("card")) {
      assertFalse(json(get(dashboard.after("Page:") + "api/room")).has("storeMended"));
    }
    Path store = folder.resolve("card").resolve("layroom.db");
    try (RandomAccessFile bytes = new RandomAccessFile(store.toFile(), "rw")) {
      bytes.seek(6 * 4096);
      bytes.write(new byte[4096]);
    }
    try (ShippedJars.Running dashboard = serve("card")) {
      String page = dashboard.after("Page:");
      assertTrue(json(get(page + "api/room")).path("storeMended").asText().contains("was damaged"));
      String aside = json(get(page + "api/store")).at("/mended/setAside").asText();
      assertTrue(Files.exists(folder.resolve("card").resolve(aside)), aside);
      String seen =
          send(
              HttpRequest.newBuilder(URI.create(page + "api/store"))
                  .header("Content-Type", "application/json")
                  .POST(
                      HttpRequest.BodyPublishers.ofString(
                          "{\"action\":\"seen\",\"who\":\"Kim\"}")));
      assertEquals("Kim", json(seen).at("/mended/seenBy").asText());
      assertFalse(json(get(page + "api/room")).has("storeMended"));
    }
    assertTrue(Files.readString(folder.resolve("card.log")).contains("It was moved to"));
  }
}
