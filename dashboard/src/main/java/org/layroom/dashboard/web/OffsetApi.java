package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.util.Optional;
import java.util.Set;
import org.layroom.dashboard.answer.OffsetAnswers;
import org.layroom.device.telemetry.RoomName;

/** Sensors and what they are corrected by, over HTTP. */
final class OffsetApi {
  private static final Set<String> FIELDS =
      Set.of("who", "series", "reference", "remove", "speaker");

  private final Api api;
  private final OffsetAnswers offsets;

  OffsetApi(Api api, OffsetAnswers offsets) {
    this.api = api;
    this.offsets = offsets;
  }

  JsonNode list(HttpServerExchange exchange) {
    return offsets.list(api.roomName(exchange));
  }

  /**
   * {@code {"series","reference","who"}}: what the reference reads beside the sensor; or {@code
   * {"series","remove":true,"who"}}; or {@code {"series","speaker","who"}}: the device that speaks.
   */
  Exchanges.Reply correct(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    body.fieldNames()
        .forEachRemaining(
            name -> {
              if (!FIELDS.contains(name)) {
                throw Problem.badField(name, "", "unknown field");
              }
            });
    String series = body.path("series").asText("");
    String who = body.path("who").asText("");
    JsonNode reference = body.path("reference");
    if (body.has("speaker")) {
      String speaker = body.path("speaker").asText("");
      return Exchanges.Reply.ok(AirApi.checked(() -> offsets.choose(room, series, speaker)));
    }
    if (body.path("remove").asBoolean(false)) {
      return Exchanges.Reply.ok(AirApi.checked(() -> offsets.remove(room, series, who)));
    }
    if (!reference.isNumber()) {
      throw Problem.badField(
          "reference", reference.toString(), "a number: what the reference reads, °C or %");
    }
    Optional<String> notNow = AirApi.checked(() -> offsets.notNow(room, series));
    if (notNow.isPresent()) {
      throw Problem.of(409, notNow.get());
    }
    double value = reference.doubleValue();
    return Exchanges.Reply.ok(AirApi.checked(() -> offsets.correct(room, series, value, who)));
  }
}
