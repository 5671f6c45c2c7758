package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.testing.Until;

/**
 * The API over HTTP: its description against what it does, and what it refuses. Every JSON answer
 * is judged by the schema that the description gives for it.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ApiIT {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final ApiDescription DESCRIPTION = new ApiDescription();
  private static final Duration SOON = Duration.ofSeconds(90);

  private static final String ALL = "api/export?what=readings";

  private final HttpClient http = HttpClient.newHttpClient();
  private Demo demo;

  @BeforeAll
  void startDemo() throws Exception {
    demo = Demo.start(60, 0, Optional.empty(), ZoneId.of("UTC"));
    Until.within(
        SOON, "the room is measured", () -> get("api/mix?amount=200ml").statusCode() == 200);
  }

  @AfterAll
  void stopDemo() {
    demo.close();
  }

  private HttpResponse<String> get(String path) {
    return send(request(path));
  }

  private HttpRequest.Builder request(String path) {
    return HttpRequest.newBuilder(demo.page().web().uri().resolve(path))
        .timeout(Duration.ofMinutes(2));
  }

  private HttpResponse<String> send(HttpRequest.Builder request) {
    try {
      HttpResponse<String> response =
          http.send(request.build(), HttpResponse.BodyHandlers.ofString());
      DESCRIPTION.holds(response);
      return response;
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private HttpResponse<String> post(String path, String body) {
    return send(
        request(path)
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body)));
  }

  private static JsonNode json(HttpResponse<String> response) throws IOException {
    return JSON.readTree(response.body());
  }

  private static Set<String> names(JsonNode object) {
    Set<String> names = new HashSet<>();
    object.fieldNames().forEachRemaining(names::add);
    return names;
  }

  private JsonNode sensor(String series) {
    try {
      for (JsonNode one : json(get("api/offsets")).path("sensors")) {
        if (one.path("series").asText().equals(series)) {
          return one;
        }
      }
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
    return JSON.missingNode();
  }

  private HttpResponse<String> correct(String series, double reference) {
    return post(
        "api/offsets",
        "{\"who\":\"Kim\",\"series\":\"%s\",\"reference\":%s}".formatted(series, reference));
  }

  /**
   * By hand: a reference that reads 1.5 K more than the sensor means +1.5 K, and after that a
   * reference that agrees means the same +1.5 K again. The room itself changes while this is tried.
   */
  @Test
  void aSensorIsCorrectedByWhatAReferenceReadsAndTheDeviceSaysSo() throws Exception {
    String resin = "resin-temperature";
    Until.within(SOON, "the resin is measured", () -> sensor(resin).path("fresh").asBoolean());
    assertEquals(0, sensor(resin).path("added").asDouble());
    double before = sensor(resin).path("value").asDouble();
    JsonNode taken = json(correct(resin, before + 1.5));
    assertEquals(1.5, taken.path("amount").asDouble(), 0.5, taken.toString());
    assertTrue(
        taken
            .path("words")
            .asText()
            .matches("(?s).*resin-temperature of \\S+ is corrected by \\+.*"),
        "" + taken);
    double amount = taken.path("amount").asDouble();
    Until.within(
        SOON,
        "the device says that it adds it",
        () ->
            sensor(resin).path("added").asDouble() == amount
                && !sensor(resin).path("waiting").asBoolean());
    assertEquals("Kim", sensor(resin).path("who").asText());
    Until.within(
        SOON,
        "compared again, the correction stays what it was",
        () -> {
          HttpResponse<String> again = correct(resin, sensor(resin).path("value").asDouble());
          if (again.statusCode() == 409) {
            return false; // the next reading is not there yet
          }
          try {
            assertEquals(amount, json(again).path("amount").asDouble(), 0.5, again.body());
          } catch (IOException e) {
            throw new IllegalStateException(e);
          }
          return true;
        });
    HttpResponse<String> gone =
        post("api/offsets", "{\"who\":\"Kim\",\"series\":\"resin-temperature\",\"remove\":true}");
    assertEquals(200, gone.statusCode(), gone.body());
    Until.within(
        SOON,
        "nothing is added any more",
        () ->
            sensor(resin).path("added").asDouble() == 0
                && !sensor(resin).path("waiting").asBoolean());
  }

  @Test
  void anUnlikelyCorrectionIsRefusedWithWhatToLookAt() throws Exception {
    Until.within(
        SOON, "the air is measured", () -> sensor("temperature").path("fresh").asBoolean());
    HttpResponse<String> far = correct("temperature", 60);
    assertEquals(400, far.statusCode());
    assertTrue(far.body().contains("faulty or in another place"), far.body());
    assertEquals(400, correct("voc-raw", 1).statusCode());
    String noNumber = "{\"who\":\"Kim\",\"series\":\"temperature\",\"reference\":\"warm\"}";
    assertTrue(post("api/offsets", noNumber).body().contains("what the reference reads"));
    String nobody = "{\"series\":\"temperature\",\"remove\":true}";
    assertEquals(400, post("api/offsets", nobody).statusCode());
    assertEquals(0, sensor("temperature").path("added").asDouble(), "nothing was taken");
  }

  @Test
  void everyPlaceIsDescribedAndNoOther() throws Exception {
    Set<String> described = names(json(get("api/openapi.json")).path("paths"));
    Set<String> there = new HashSet<>(demo.page().web().places());
    there.add("/api/openapi.json");
    assertEquals(there, described);
  }

  @Test
  void everyExampleIsAnsweredWithWhatIsPromised() throws Exception {
    JsonNode paths = json(get("api/openapi.json")).path("paths");
    int asked = 0;
    for (String path : names(paths)) {
      JsonNode operation = paths.path(path).path("get");
      JsonNode promised = operation.at("/responses/200/content/application~1json/schema");
      Optional<String> query = query(operation);
      if (promised.isMissingNode() || query.isEmpty()) {
        continue;
      }
      HttpResponse<String> response = get(path.substring(1) + query.get());
      assertEquals(200, response.statusCode(), path + " " + response.body());
      asked++;
    }
    assertTrue(asked >= 15, "examples asked: " + asked);
  }

  /** The examples of an operation as a query; empty where a needed one has none. */
  private static Optional<String> query(JsonNode operation) {
    List<String> parts = new ArrayList<>();
    for (JsonNode parameter : operation.path("parameters")) {
      if (parameter.has("example")) {
        parts.add(
            parameter.path("name").asText()
                + "="
                + URLEncoder.encode(parameter.path("example").asText(), StandardCharsets.UTF_8));
      } else if (parameter.path("required").asBoolean()) {
        return Optional.empty();
      }
    }
    return Optional.of(parts.isEmpty() ? "" : "?" + String.join("&", parts));
  }

  @Test
  void whatIsNotRightIsRefusedWithItsField() throws Exception {
    HttpResponse<String> response = get("api/mix?amount=200spoons");
    assertEquals(400, response.statusCode());
    assertEquals(
        "application/problem+json", response.headers().firstValue("Content-Type").orElse(""));
    assertEquals("amount", json(response).at("/errors/0/field").asText());
    HttpResponse<String> job = post("api/job?job=job-00000009", "{\"id\":\"ev-000001\"}");
    assertEquals("type", json(job).at("/errors/0/field").asText());
    assertEquals(400, post("api/job?job=job-00000009", "[1,2").statusCode());
    assertEquals(400, post("api/job?job=x", "{}").statusCode());
    assertEquals(404, get("api/job?job=job-00000404").statusCode());
  }

  @Test
  void aPageFromElsewhereCannotWrite() {
    String body = "{\"id\":\"ev-000001\",\"type\":\"noted\",\"words\":\"x\"}";
    HttpRequest.BodyPublisher publisher = HttpRequest.BodyPublishers.ofString(body);
    String path = "api/job?job=job-00000009";
    assertEquals(
        415, send(request(path).header("Content-Type", "text/plain").POST(publisher)).statusCode());
    assertEquals(
        403,
        send(request(path)
                .header("Content-Type", "application/json")
                .header("Origin", "http://elsewhere.example")
                .POST(publisher))
            .statusCode());
    assertEquals(405, send(request("api/jobs").POST(publisher)).statusCode());
    assertEquals(413, post(path, "{\"words\":\"" + "x".repeat(70_000) + "\"}").statusCode());
  }

  @Test
  void eightTabletsThatTapAtOnceMixOneCup() throws Exception {
    String start =
        "{\"id\":\"ev-start-1\",\"type\":\"started\",\"part\":\"hatch\",\"molds\":[\"hatch\"],"
            + "\"steps\":[{\"kind\":\"layer\"},{\"kind\":\"demold\"}]}";
    assertEquals(201, post("api/job?job=job-00000001", start).statusCode());
    assertEquals(200, post("api/job?job=job-00000001", start).statusCode(), "sent again");
    long seen = json(get("api/job?job=job-00000001")).path("position").asLong();
    List<Callable<Integer>> taps = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      String tap =
          "{\"id\":\"ev-mixed-"
              + i
              + "\",\"seen\":"
              + seen
              + ",\"type\":\"mixed\",\"step\":\"1\",\"cup\":{\"material\":\"gp-resin\","
              + "\"materialGrams\":200,\"doseByWeightPct\":1.5,\"resinC\":20,\"moldC\":20}}";
      taps.add(() -> post("api/job?job=job-00000001", tap).statusCode());
    }
    ExecutorService tablets = Executors.newFixedThreadPool(8);
    try {
      List<Integer> answers = new ArrayList<>();
      for (Future<Integer> answer : tablets.invokeAll(taps)) {
        answers.add(answer.get());
      }
      answers.sort(null);
      assertEquals(List.of(201, 409, 409, 409, 409, 409, 409, 409), answers);
    } finally {
      tablets.shutdownNow();
    }
    JsonNode job = json(get("api/job?job=job-00000001"));
    assertEquals(1, job.at("/steps/0/mixes").size());
    Until.within(
        SOON, "the warnings know of the job", () -> get("api/room").body().contains("\"job\""));
  }

  @Test
  void aMaterialIsCheckedKeptAndTakenAway() throws Exception {
    String file =
        "{\"id\":\"my-resin\",\"name\":\"My resin\",\"kind\":\"laminating-resin\","
            + "\"gel\":{\"minutes\":18,\"temperatureC\":22,\"doseByWeightPct\":1.5},"
            + "\"doseByWeightPct\":{\"min\":1,\"max\":2},\"densityKgPerL\":DENSITY}";
    HttpResponse<String> wrong = post("api/materials", file.replace("DENSITY", "11.2"));
    assertEquals(400, wrong.statusCode());
    assertEquals("densityKgPerL", json(wrong).at("/errors/0/field").asText());
    assertEquals(201, post("api/materials", file.replace("DENSITY", "1.12")).statusCode());
    String test =
        "{\"id\":\"test-00000001\",\"type\":\"gel-test\",\"where\":\"cup\",\"temperatureC\":20,"
            + "\"doseByWeightPct\":1.5,\"minutes\":25}";
    assertEquals(200, post("api/material?material=my-resin", test).statusCode());
    assertEquals(200, post("api/material?material=my-resin", test).statusCode(), "sent again");
    JsonNode can = json(get("api/material?material=my-resin"));
    assertEquals(1, can.path("tests").size());
    assertTrue(can.path("confidence").asText().contains("tested once"), can.toString());
    String away = "{\"id\":\"away-00000001\",\"type\":\"remove\"}";
    assertEquals(200, post("api/material?material=my-resin", away).statusCode());
    assertEquals(400, get("api/material?material=my-resin").statusCode());
    assertEquals(409, post("api/material?material=gp-resin", away).statusCode());
  }

  @Test
  void readingsComeAsCsvThatForecastReadsBack() {
    Until.within(
        SOON,
        "two days of readings are there",
        () -> get("api/export?what=readings").body().lines().count() > 1000);
    HttpResponse<String> csv = get("api/export?what=readings");
    assertEquals(200, csv.statusCode());
    String head = csv.body().lines().findFirst().orElse("");
    assertTrue(head.startsWith("time,temperature_degC,humidity_pct,mold_temperature_degC"), head);
    assertEquals(400, get("api/export?what=everything").statusCode());
    assertEquals(400, get("api/export?format=xml").statusCode());
  }

  @Test
  void readingsAndPartsComeAsJsonWithTheFiguresOfTheCsv() throws Exception {
    Until.within(SOON, "readings come in", () -> get(ALL).body().lines().count() > 1);
    String newest = get(ALL).body().lines().reduce((before, line) -> line).orElse("");
    Instant end = Instant.parse(newest.replaceAll(",.*", "")).truncatedTo(ChronoUnit.SECONDS);
    String hour = ALL + "&from=%s&to=%s".formatted(end.minus(Duration.ofHours(1)), end);
    List<String> csv = new ArrayList<>();
    StringBuilder asJson = new StringBuilder();
    Until.within(
        SOON,
        "an hour has come in whole",
        () -> {
          String before = get(hour).body();
          asJson.replace(0, asJson.length(), get(hour + "&format=json").body());
          csv.clear();
          before.lines().forEach(csv::add);
          return csv.size() > 10 && before.equals(get(hour).body());
        });
    JsonNode json = JSON.readTree(asJson.toString());
    assertEquals(csv.size() - 1, json.path("readings").size());
    List<String> columns = List.of(csv.get(0).split(",", -1));
    List<String> cells = List.of(csv.get(1).split(",", -1));
    JsonNode first = json.path("readings").path(0);
    assertEquals(cells.get(0), first.path("time").asText());
    for (int column = 1; column < columns.size(); column++) {
      assertEquals(
          cells.get(column), first.path(columns.get(column)).asText(), columns.get(column));
    }
    JsonNode parts = JSON.readTree(get("api/export?what=jobs&format=json").body());
    assertTrue(parts.isArray(), parts.toString());
  }
}
