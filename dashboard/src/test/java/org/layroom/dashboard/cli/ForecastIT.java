package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.testing.Until;

/** The demo's room is learned from its two days of past, and its forecast reaches every answer. */
class ForecastIT {
  private static JsonNode get(Demo demo, String path) throws Exception {
    URI uri = demo.page().web().uri().resolve(path);
    HttpResponse<String> response =
        HttpClient.newHttpClient()
            .send(HttpRequest.newBuilder(uri).build(), HttpResponse.BodyHandlers.ofString());
    return JsonMapper.builder().build().readTree(response.body());
  }

  /** From the whole past that the demo brings: while it still arrives, a forecast knows less. */
  private static boolean hasForecast(Demo demo) {
    try {
      JsonNode check = get(demo, "api/check");
      JsonNode forecast = get(demo, "api/forecast?hours=1");
      return check.path("outlook").asText().contains("demold")
          && forecast.path("newestReadingMinutes").asDouble(99) < 30;
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void theForecastReachesStripCheckMixAndPlan() throws Exception {
    try (Demo demo = Demo.start(10, 0, Optional.empty(), ZoneId.of("UTC"))) {
      Until.within(Duration.ofMinutes(3), "the check knows the forecast", () -> hasForecast(demo));
      JsonNode forecast = get(demo, "api/forecast?hours=36");
      assertEquals(0, forecast.path("refused").size());
      assertEquals(36 * 6, forecast.path("air").size());
      assertEquals(36 * 6, forecast.path("mold").size());
      assertEquals(36 * 6, forecast.path("humidity").size());
      Instant at = Instant.parse(forecast.path("at").asText());
      assertEquals(
          at.plusSeconds(600), Instant.parse(forecast.path("air").path(0).path("time").asText()));
      assertTrue(forecast.path("words").asText().contains("vernight"), forecast.toString());
      JsonNode mix = get(demo, "api/mix?amount=200ml");
      assertTrue(mix.path("outlook").asText().contains("demold"), mix.toString());
      assertEquals(mix.path("outlook"), mix.path("lines").path(1));
      String url = demo.page().web().uri().toString();
      Typed plan = Typed.run("plan --json --material gp-resin --url " + url);
      assertEquals(0, plan.status(), plan.err());
      Typed bad = Typed.run("plan --json --material gp-resin --waking never --url " + url);
      assertEquals(2, bad.status(), bad.out());
      assertEquals(400, get(demo, "api/forecast?hours=400").path("status").asInt());
    }
  }
}
