package org.layroom.dashboard.web;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import io.undertow.util.Methods;
import java.nio.ByteBuffer;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;
import org.tinylog.Logger;

/** The small steps every API handler shares: parameters in, JSON or a problem out. */
final class Exchanges {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private Exchanges() {}

  /** What answers one API request. */
  interface Answering {
    JsonNode answer(HttpServerExchange exchange);
  }

  /** A handler for GET that runs on a worker thread and turns every failure into a problem. */
  static HttpHandler get(Answering answering) {
    return exchange -> {
      if (!exchange.getRequestMethod().equals(Methods.GET)
          && !exchange.getRequestMethod().equals(Methods.HEAD)) {
        exchange.getResponseHeaders().put(Headers.ALLOW, "GET, HEAD");
        send(exchange, Problem.of(405, "Only GET and HEAD are understood here."));
        return;
      }
      exchange.dispatch(() -> answer(exchange, answering));
    };
  }

  private static void answer(HttpServerExchange exchange, Answering answering) {
    try {
      send(exchange, 200, "application/json", answering.answer(exchange));
    } catch (Problem problem) {
      send(exchange, problem);
    } catch (RuntimeException e) {
      Logger.error(e, "Request {} failed", exchange.getRequestPath());
      send(exchange, Problem.of(500, "Layroom could not answer; its log says why."));
    }
  }

  static void send(HttpServerExchange exchange, Problem problem) {
    send(exchange, problem.status(), Problem.MEDIA_TYPE, problem.json());
  }

  private static void send(HttpServerExchange exchange, int status, String type, JsonNode body) {
    exchange.setStatusCode(status);
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, type);
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
    exchange.getResponseSender().send(ByteBuffer.wrap(bytes(body)));
  }

  static byte[] bytes(JsonNode node) {
    try {
      return JSON.writeValueAsBytes(node);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }

  /** The one value of a query parameter; a parameter given twice is refused. */
  static Optional<String> parameter(HttpServerExchange exchange, String name) {
    Deque<String> values = exchange.getQueryParameters().getOrDefault(name, new ArrayDeque<>());
    if (values.size() > 1) {
      throw Problem.badField(name, String.join(", ", values), "give it once");
    }
    return Optional.ofNullable(values.peek()).filter(value -> !value.isBlank());
  }
}
