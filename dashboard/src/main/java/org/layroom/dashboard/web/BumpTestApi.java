package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.util.Optional;
import org.layroom.dashboard.answer.BumpTestAnswers;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/** The bump test over HTTP. */
final class BumpTestApi {
  private final Api api;
  private final BumpTestAnswers answers;

  BumpTestApi(Api api, BumpTestAnswers answers) {
    this.api = api;
    this.answers = answers;
  }

  JsonNode state(HttpServerExchange exchange) {
    return answers.state(api.roomName(exchange));
  }

  /**
   * {@code {"action":"start","id","who"}} begins; {@code {"action":"seen","id","who","alarmSeen"}}
   * says whether lamp, buzzer and fan came on; {@code {"action":"new-sensor","id","who"}} says that
   * another was fitted. {@code device} names one of several.
   */
  Exchanges.Reply tell(HttpServerExchange exchange, ObjectNode body) {
    RoomName room = api.roomName(exchange);
    String action = body.path("action").asText("");
    String id = AirApi.id(body);
    String who = AirApi.who(body);
    Optional<DeviceName> device = AirApi.device(body);
    return switch (action) {
      case "start" ->
          Exchanges.Reply.ok(AirApi.checked(() -> answers.begin(room, device, id, who)));
      case "seen" -> {
        boolean seen = AirApi.flag(body, "alarmSeen");
        yield Exchanges.Reply.ok(
            AirApi.checked(() -> answers.alarmSeen(room, device, id, who, seen)));
      }
      case "new-sensor" ->
          Exchanges.Reply.ok(AirApi.checked(() -> answers.newSensor(room, device, id, who)));
      default -> throw Problem.badField("action", action, "start, seen or new-sensor");
    };
  }
}
