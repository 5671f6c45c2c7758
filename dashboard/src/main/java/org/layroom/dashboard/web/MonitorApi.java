package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.layroom.dashboard.monitor.Figures;
import org.layroom.dashboard.monitor.Readiness;

/** What a monitor asks: is it alive, is it ready, and its figures. */
final class MonitorApi {
  private final Readiness readiness;
  private final Figures figures;

  MonitorApi(Readiness readiness, Figures figures) {
    this.readiness = readiness;
    this.figures = figures;
  }

  /** 200 when it is ready; else 503 with the reasons. */
  HttpHandler ready() {
    return Exchanges.getReply(
        exchange -> {
          List<String> reasons = readiness.reasons();
          ObjectNode json = JsonNodeFactory.instance.objectNode();
          json.put("state", reasons.isEmpty() ? "ready" : "not-ready");
          ArrayNode said = json.putArray("reasons");
          reasons.forEach(said::add);
          return new Exchanges.Reply(reasons.isEmpty() ? 200 : 503, json);
        });
  }

  HttpHandler metrics() {
    return Exchanges.getting(this::send);
  }

  private void send(HttpServerExchange exchange) {
    Figures.Text text = figures.text(exchange.getRequestHeaders().getFirst(Headers.ACCEPT));
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, text.contentType());
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
    exchange.getResponseSender().send(text.body(), StandardCharsets.UTF_8);
  }
}
