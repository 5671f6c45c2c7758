package org.layroom.dashboard.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.ZoneId;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.testing.Until;

/** Fan and respirator over HTTP: asked at the first cup of an evening, not at the second. */
class FanAndRespiratorIT {
  private static final Duration SOON = Duration.ofSeconds(90);
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final HttpClient client = HttpClient.newHttpClient();
  private Demo demo;

  @BeforeEach
  void open() throws Exception {
    demo = Demo.start(1, 0, Optional.empty(), ZoneId.of("UTC"));
    Until.within(SOON, "a dose", () -> mix().path("catalystGrams").isNumber());
  }

  @AfterEach
  void close() {
    demo.close();
  }

  private JsonNode send(HttpRequest.Builder request) {
    try {
      HttpResponse<String> response =
          client.send(request.timeout(SOON).build(), HttpResponse.BodyHandlers.ofString(UTF_8));
      assertTrue(response.statusCode() < 300, response.body());
      return JSON.readTree(response.body());
    } catch (Exception e) {
      throw new AssertionError(e);
    }
  }

  private JsonNode get(String path) {
    return send(HttpRequest.newBuilder(demo.page().web().uri().resolve(path)));
  }

  private JsonNode mix() {
    return get("api/mix?material=gp-resin&amount=200ml");
  }

  private void tell(String job, String event) throws Exception {
    ObjectNode body = (ObjectNode) JSON.readTree(event);
    if (!body.path("type").asText().equals("started")) {
      body.put("seen", get("api/job?job=" + job).path("position").asLong());
    }
    send(
        HttpRequest.newBuilder(demo.page().web().uri().resolve("api/job?job=" + job))
            .header("Content-Type", "application/json")
            .POST(HttpRequest.BodyPublishers.ofString(body.toString())));
  }

  private void start(String job) throws Exception {
    tell(
        job,
        """
        {"type":"started","id":"start-%1$s","part":"%1$s","molds":["%1$s"],
         "steps":[{"kind":"layer","name":"layer 1","material":"gp-resin"},
                  {"kind":"layer","name":"layer 2","material":"gp-resin"}],
         "fanOn":false,"respiratorOn":false}"""
            .formatted(job));
  }

  private void cup(String job, String id, String more) throws Exception {
    tell(
        job,
        """
        {"type":"mixed","id":"%s","step":"1"%s,
         "cup":{"material":"gp-resin","materialGrams":224,"doseByWeightPct":1.5,"resinC":20,
                "moldC":20,"typed":false,"goneOn":[]}}"""
            .formatted(id, more));
  }

  @Test
  void theFirstCupAsksTheSecondDoesNotAndAnotherPartTakesIt() throws Exception {
    assertTrue(mix().at("/protection/asked").asText().contains("First cup"));
    assertFalse(mix().path("protection").has("maskWords"), "none is named without a room size");
    start("fender-left");
    cup("fender-left", "first-cup", ",\"fanOn\":true,\"respiratorOn\":true,\"mask\":\"half-mask\"");
    JsonNode known = mix().path("protection");
    assertFalse(known.has("asked"), known.toString());
    assertTrue(known.path("fanOn").asBoolean() && known.path("respiratorOn").asBoolean());
    start("fender-right");
    cup("fender-right", "second-cup", "");
    JsonNode job = get("api/room").at("/air/job");
    assertEquals("fender-right", job.path("who").asText());
    assertTrue(job.path("fanOn").asBoolean() && job.path("respiratorOn").asBoolean());
    assertTrue(get("api/job?job=fender-left").path("fanOn").asBoolean());
  }

  @Test
  void whatIsNotOnIsSaidAndTheWarningsStayFull() throws Exception {
    start("roof-hatch");
    cup("roof-hatch", "first-cup", ",\"fanOn\":true,\"respiratorOn\":false");
    JsonNode job = get("api/room").at("/air/job");
    assertTrue(job.path("fanOn").asBoolean());
    assertFalse(job.path("respiratorOn").asBoolean());
    assertFalse(mix().at("/protection").has("asked"), "not nagged anew");
  }
}
