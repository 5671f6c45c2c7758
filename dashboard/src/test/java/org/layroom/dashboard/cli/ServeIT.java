package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.testing.Mosquitto;
import org.layroom.dashboard.testing.Until;

/**
 * The shipped jars as processes of their own: a dashboard on a shop's mosquitto that wants a
 * password and limits messages, and a device that simulates its sensors.
 */
class ServeIT {
  private static final Duration SOON = Duration.ofSeconds(60);

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  private final HttpClient http = HttpClient.newHttpClient();

  @BeforeEach
  void needsMosquitto() {
    Mosquitto.required();
  }

  private ShippedJars.Running dashboard(Mosquitto mosquitto) throws IOException {
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\ndata=data\nzone=UTC\nbroker.uri="
                + mosquitto.uri()
                + "\nbroker.user="
                + Mosquitto.USER
                + "\nbroker.password-file="
                + mosquitto.passwordFile()
                + "\n");
    return ShippedJars.start(
        ShippedJars.DASHBOARD,
        "Ready",
        folder.resolve("dashboard.log"),
        "serve",
        "--config",
        config.toString());
  }

  private ShippedJars.Running device(Mosquitto mosquitto) throws IOException {
    Path config =
        Files.writeString(
            folder.resolve("device.properties"),
            "speed=30\ndata="
                + folder.resolve("device")
                + "\nbroker.uri="
                + mosquitto.uri()
                + "\nbroker.user="
                + Mosquitto.USER
                + "\nbroker.password-file="
                + mosquitto.passwordFile()
                + "\n");
    return ShippedJars.start(
        ShippedJars.DEVICE,
        "layroom-device ready",
        folder.resolve("device.log"),
        "--simulate",
        "--config",
        config.toString());
  }

  private HttpResponse<String> get(String uri) throws IOException, InterruptedException {
    return http.send(
        HttpRequest.newBuilder(URI.create(uri)).timeout(Duration.ofMinutes(2)).build(),
        HttpResponse.BodyHandlers.ofString());
  }

  private JsonNode json(String uri) throws IOException, InterruptedException {
    HttpResponse<String> response = get(uri);
    assertEquals(200, response.statusCode(), response.body());
    return JsonMapper.builder().build().readTree(response.body());
  }

  private interface Asked {
    boolean yet() throws IOException, InterruptedException;
  }

  private static void eventually(String what, Asked asked) {
    Until.within(
        SOON,
        what,
        () -> {
          try {
            return asked.yet();
          } catch (IOException e) {
            throw new UncheckedIOException(e);
          } catch (InterruptedException e) {
            throw new IllegalStateException(e);
          }
        });
  }

  @Test
  void aDeviceInAnotherProcessIsSeenKilledAndSeenAgainAndSoIsTheBroker() throws Exception {
    try (Mosquitto mosquitto =
        Mosquitto.prepare(Files.createDirectories(folder.resolve("mosquitto")), true)) {
      mosquitto.start();
      try (ShippedJars.Running dashboard = dashboard(mosquitto)) {
        String page = dashboard.after("Page:");
        ShippedJars.Running device = device(mosquitto);
        eventually(
            "air and mold are seen",
            () ->
                json(page + "api/room").path("series").has("temperature")
                    && json(page + "api/room").path("series").has("mold-temperature"));
        eventually(
            "the device is told to be online",
            () -> json(page + "api/room").at("/devices/0/state").asText().equals("online"));
        device.kill();
        eventually(
            "the device is told to be gone",
            () -> json(page + "api/room").at("/devices/0/state").asText().equals("offline"));
        try (ShippedJars.Running again = device(mosquitto)) {
          assertTrue(again.process().isAlive());
          eventually(
              "the device is there again",
              () -> json(page + "api/room").at("/devices/0/state").asText().equals("online"));
          mosquitto.kill();
          eventually(
              "the broker is told to be gone",
              () -> !json(page + "api/room").at("/links/broker").asBoolean(true));
          assertTrue(json(page + "api/room").at("/links").has("trouble"));
          mosquitto.start();
          eventually(
              "the broker is there again",
              () -> json(page + "api/room").at("/links/broker").asBoolean());
          String before = json(page + "api/room").path("newest").asText();
          eventually(
              "new readings come in",
              () -> !json(page + "api/room").path("newest").asText().equals(before));
        }
        Typed check = Typed.run("check --json --url " + page + " --material gp-resin");
        assertEquals(0, check.status(), check.err());
        Typed mix = Typed.run("mix --amount 200ml --url " + page + " --material gp-resin");
        assertTrue(mix.status() == 0 || mix.status() == 2, mix.err());
        assertTrue((mix.out() + mix.err()).contains("General-purpose"), mix.out() + mix.err());
      }
    }
  }

  @Test
  void requestsThatCannotBeAnsweredSayWhatToChange() throws Exception {
    try (Mosquitto mosquitto =
        Mosquitto.prepare(Files.createDirectories(folder.resolve("mosquitto")), true)) {
      mosquitto.start();
      try (ShippedJars.Running dashboard = dashboard(mosquitto)) {
        String page = dashboard.after("Page:");
        assertProblem(page + "api/room?room=My%20Room", "room");
        assertProblem(404, page + "api/room?room=attic", "room");
        assertProblem(page + "api/check?material=epoxy", "material");
        assertProblem(page + "api/history?from=2026-03-01T00:00Z&to=2026-03-02T00:00Z", "series");
        assertProblem(
            page + "api/history?series=temperature&from=yesterday&to=2026-03-02T00:00Z", "from");
        assertProblem(
            page
                + "api/history?series=temperature&from=2026-03-01T00:00Z"
                + "&to=2026-03-02T00:00Z&points=0",
            "points");
        assertProblem(page + "api/mix?amount=200&mold-temp=18C", "amount");
        assertEquals(404, get(page + "../../etc/passwd").statusCode());
        assertEquals(404, get(page + "api/nothing").statusCode());
        assertEquals("up", json(page + "healthz").path("state").asText());
        HttpResponse<String> home = get(page);
        assertTrue(
            home.headers().firstValue("Content-Security-Policy").orElse("").contains("'self'"));
      }
    }
  }

  private void assertProblem(String uri, String field) throws Exception {
    assertProblem(400, uri, field);
  }

  private void assertProblem(int status, String uri, String field) throws Exception {
    HttpResponse<String> response = get(uri);
    assertEquals(status, response.statusCode(), response.body());
    assertEquals(
        "application/problem+json", response.headers().firstValue("Content-Type").orElse(""));
    JsonNode problem = JsonMapper.builder().build().readTree(response.body());
    assertEquals(field, problem.at("/errors/0/field").asText(), response.body());
    assertTrue(!problem.at("/errors/0/reason").asText().isBlank(), response.body());
  }
}
