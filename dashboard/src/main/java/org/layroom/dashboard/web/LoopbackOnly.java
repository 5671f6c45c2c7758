package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.util.Set;

/**
 * Lets through only requests that this machine made to itself by a loopback name, so that a web
 * page elsewhere cannot reach the room by pointing its own host name here (DNS rebinding).
 */
final class LoopbackOnly implements HttpHandler {
  private static final Set<String> HOSTS = Set.of("localhost", "127.0.0.1", "[::1]", "::1");

  private final HttpHandler next;

  LoopbackOnly(HttpHandler next) {
    this.next = next;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    if (!HOSTS.contains(exchange.getHostName())
        || exchange.getRequestHeaders().contains(Headers.X_FORWARDED_FOR)) {
      Exchanges.send(
          exchange,
          Problem.of(403, "Layroom answers only on this machine, as localhost or 127.0.0.1."));
      return;
    }
    next.handleRequest(exchange);
  }
}
