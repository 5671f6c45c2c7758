package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.ingest.RoomCap;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/**
 * A hundred rooms in the heap of the shipped package, with the broker inside: each has its verdict
 * and its warnings, and each can be forecast, one after the other.
 */
class HundredRoomsIT {
  private static final int MANY = 100;
  private static final Duration HISTORY = Duration.ofDays(2);
  private static final Duration EVERY = Duration.ofMinutes(5);
  private static final long SMALL_HEAP_MIB = 64;
  private static final JsonMapper JSON = new JsonMapper();

  @TempDir Path folder;
  private final HttpClient http = HttpClient.newHttpClient();

  private static String room(int i) {
    return "room-" + i;
  }

  /** An invented room: warmest at 3 p.m. */
  private static double celsius(Instant time, int room) {
    double hour = time.getEpochSecond() / 3600.0;
    return 15 + room / 20.0 + 4 * Math.cos(2 * Math.PI * (hour - 15) / 24);
  }

  private static void fill(Path data, int rooms, int samples) {
    Instant end = Instant.now();
    try (Store store = StoreFolder.open(data)) {
      for (int room = 0; room < rooms; room++) {
        List<StoreEntry> batch = new ArrayList<>();
        for (int i = 1; i <= samples; i++) {
          Instant time = end.minus(EVERY.multipliedBy(samples - i));
          batch.add(
              new StoreEntry.Sample(
                  Channel.of(room(room), "bench"),
                  Optional.of(new OutboxPosition("filled", i)),
                  SampleTimes.asSaid(time, time),
                  List.of(
                      Reading.of("temperature", "Cel", celsius(time, room)),
                      Reading.of("humidity", "%RH", 50),
                      Reading.of("mold-temperature", "Cel", celsius(time, room) - 1)),
                  List.of()));
        }
        store.append(batch);
      }
    }
  }

  private HttpResponse<byte[]> answer(String page, String path)
      throws IOException, InterruptedException {
    return http.send(
        HttpRequest.newBuilder(URI.create(page).resolve(path)).build(),
        HttpResponse.BodyHandlers.ofByteArray());
  }

  private JsonNode get(String page, String path) throws IOException, InterruptedException {
    HttpResponse<byte[]> answer = answer(page, path);
    assertEquals(200, answer.statusCode(), path);
    return JSON.readTree(answer.body());
  }

  private static long residentKib(long pid) throws IOException {
    return Files.readAllLines(Path.of("/proc", String.valueOf(pid), "status")).stream()
        .filter(line -> line.startsWith("VmRSS"))
        .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
        .sum();
  }

  /** A small heap stands for a shop that has outgrown its own. */
  @Test
  void moreRoomsThanFitAreToldAndTheOthersAreServed() throws Exception {
    Path data = Files.createDirectories(folder.resolve("data"));
    int many = RoomCap.ofHeap(SMALL_HEAP_MIB << 20).most() + 7;
    fill(data, many, 3);
    Path settings =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nroom=%s\ndata=%s\n".formatted(room(0), data));
    try (ShippedJars.Running dashboard =
        ShippedJars.start(
            List.of("-XX:+UseSerialGC", "-Xmx" + SMALL_HEAP_MIB + "m"),
            ShippedJars.DASHBOARD,
            "Ready",
            folder.resolve("dashboard.log"),
            "serve",
            "--config",
            settings.toString())) {
      String page = dashboard.after("Page:");
      JsonNode list = get(page, "/api/rooms");
      int served = list.at("/counts/unknown").asInt();
      assertTrue(served > 0 && served < many, list.path("counts").toString());
      String told = get(page, "/api/room").path("notices").toString();
      assertTrue(told.contains("memory holds " + served + " rooms"), told);
      assertTrue(told.contains("It does not watch the " + (many - served) + " heard"), told);
      assertTrue(dashboard.process().isAlive());
    }
  }

  /** All rooms are in the list once, page by page, the worst first. */
  private void listed(String page) throws IOException, InterruptedException {
    Set<String> names = new HashSet<>();
    List<String> verdicts = new ArrayList<>();
    String after = "";
    while (names.size() < MANY) {
      JsonNode part = get(page, "/api/rooms?most=40" + after);
      assertTrue(part.path("rooms").size() > 0, names.size() + " rooms");
      for (JsonNode line : part.path("rooms")) {
        assertTrue(names.add(line.path("room").asText()), "once: " + line);
        verdicts.add(line.path("verdict").asText());
        assertEquals("unknown", line.path("air").asText(), "nobody measures vapor");
      }
      after = "&after=" + part.path("next").asText();
    }
    List<String> rank = List.of("no", "wait", "unknown", "mix");
    assertEquals(verdicts.stream().sorted(Comparator.comparing(rank::indexOf)).toList(), verdicts);
    assertEquals(MANY, get(page, "/api/rooms").at("/counts/unknown").asInt());
  }

  /** One stream tells of all rooms. */
  private void heard(String page) throws IOException, InterruptedException {
    HttpResponse<Stream<String>> stream =
        http.send(
            HttpRequest.newBuilder(URI.create(page).resolve("/api/events?rooms=all")).build(),
            HttpResponse.BodyHandlers.ofLines());
    try (Stream<String> lines = stream.body()) {
      String first =
          lines
              .filter(line -> line.startsWith("data:") && line.length() > 6)
              .findFirst()
              .orElse("");
      assertEquals(MANY, JSON.readTree(first.substring(5)).path("rooms").size(), first);
    }
    assertEquals(400, answer(page, "/api/events?rooms=some").statusCode());
  }

  @Test
  void eachIsCheckedAndForecastInTheShippedHeap() throws Exception {
    Path data = Files.createDirectories(folder.resolve("data"));
    fill(data, MANY, (int) HISTORY.dividedBy(EVERY));
    Path settings =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nroom=%s\ndata=%s\n".formatted(room(0), data));
    try (ShippedJars.Running dashboard =
        ShippedJars.start(
            ShippedJars.packagedFlags(Path.of("src", "deb", "layroom")),
            ShippedJars.DASHBOARD,
            "Ready",
            folder.resolve("dashboard.log"),
            "serve",
            "--config",
            settings.toString())) {
      String page = dashboard.after("Page:");
      for (int i = 0; i < MANY; i++) {
        JsonNode forecast = get(page, "/api/forecast?room=" + room(i));
        assertTrue(forecast.path("air").size() > 400, room(i) + ": " + forecast);
        JsonNode now = get(page, "/api/room?room=" + room(i));
        assertTrue(now.path("verdict").has("verdict"), room(i) + ": " + now);
        assertTrue(get(page, "/api/warnings?room=" + room(i)).isObject(), room(i));
      }
      listed(page);
      heard(page);
      assertEquals(404, answer(page, "/api/room?room=elsewhere").statusCode());
      assertTrue(dashboard.process().isAlive());
      System.out.printf(
          Locale.ROOT,
          "HundredRoomsIT: %d rooms forecast, %.0f MB resident%n",
          MANY,
          residentKib(dashboard.process().pid()) / 1e3);
    }
  }
}
