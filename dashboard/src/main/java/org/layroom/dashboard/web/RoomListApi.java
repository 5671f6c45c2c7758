package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.undertow.server.HttpServerExchange;
import java.util.Optional;
import org.layroom.dashboard.answer.RoomLines;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirCall;

/** All rooms over HTTP, the worst first. */
final class RoomListApi {
  private static final int USUAL = 100;

  private final Api api;
  private final RoomLines lines;

  RoomListApi(Api api, RoomLines lines) {
    this.api = api;
    this.lines = lines;
  }

  JsonNode rooms(HttpServerExchange exchange) {
    Optional<AirCall> only = Exchanges.parameter(exchange, "air").map(RoomListApi::call);
    Optional<RoomName> after =
        Exchanges.parameter(exchange, "after").map(name -> api.room("after", name));
    return lines.list(only, after, Exchanges.whole(exchange, "most", USUAL, RoomLines.MOST));
  }

  private static AirCall call(String name) {
    return RoomLines.call(name)
        .orElseThrow(() -> Problem.badField("air", name, "use leave, unknown, ventilate or ok"));
  }
}
