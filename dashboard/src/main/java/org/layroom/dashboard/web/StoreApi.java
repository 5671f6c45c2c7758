package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import org.layroom.dashboard.answer.StoreAnswers;

/** Whether the store was damaged, and that somebody has seen it. */
final class StoreApi {
  private static final int LONGEST_NAME = 60;

  private final StoreAnswers store;

  StoreApi(StoreAnswers store) {
    this.store = store;
  }

  JsonNode state(HttpServerExchange exchange) {
    return store.state();
  }

  /** {@code {"action":"seen","who":"Kim"}}; said again it changes nothing. */
  Exchanges.Reply seen(HttpServerExchange exchange, ObjectNode body) {
    if (!body.path("action").asText().equals("seen")) {
      throw Problem.badField("action", body.path("action").asText(), "must be seen");
    }
    String who = body.path("who").asText("").strip();
    if (who.isEmpty() || who.length() > LONGEST_NAME) {
      throw Problem.badField("who", who, "Your name: enter 1 to 60 characters");
    }
    return Exchanges.Reply.ok(store.seen(who));
  }
}
