package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import java.util.Optional;
import org.layroom.dashboard.announce.Announcer;

/** Where warnings and windows are posted, and one post to try it. */
final class AnnounceApi {
  private final Api api;
  private final Announcer announcer;

  AnnounceApi(Api api, Announcer announcer) {
    this.api = api;
    this.announcer = announcer;
  }

  JsonNode state(HttpServerExchange exchange) {
    return state();
  }

  private ObjectNode state() {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("on", announcer.address().isPresent());
    announcer.address().ifPresent(to -> json.put("url", to.uri().toString()));
    announcer.trouble().ifPresent(why -> json.put("trouble", why));
    return json;
  }

  /** {@code {"action":"test"}}: posts one, and tells what came back. */
  Exchanges.Reply test(HttpServerExchange exchange, ObjectNode body) {
    String action = body.path("action").asText("");
    if (!action.equals("test")) {
      throw Problem.badField("action", action, "must be test");
    }
    if (announcer.address().isEmpty()) {
      throw Problem.badField("action", action, "no address is set: announce.url in the settings");
    }
    Optional<String> failed = announcer.tryOut(api.roomName(exchange));
    return Exchanges.Reply.ok(
        state()
            .put("taken", failed.isEmpty())
            .put("words", failed.orElse("The test was taken. Is it where you look for it?")));
  }
}
