package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpServerExchange;
import org.layroom.dashboard.answer.job.ProtectionAnswers;

/** A mix over HTTP, with what is said of fan and respirator. */
final class MixApi {
  private final Api api;
  private final ProtectionAnswers protection;

  MixApi(Api api, ProtectionAnswers protection) {
    this.api = api;
    this.protection = protection;
  }

  JsonNode mix(HttpServerExchange exchange) {
    JsonNode mix = api.mix(exchange);
    return mix instanceof ObjectNode object ? protection.tell(api.roomName(exchange), object) : mix;
  }
}
