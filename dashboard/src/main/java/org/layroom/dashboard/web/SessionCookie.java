package org.layroom.dashboard.web;

import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.time.Duration;

/**
 * The cookie of a paired device: not for scripts, not for other sites' requests, and under TLS
 * bound to this very host ({@code __Host-}, RFC 6265bis).
 */
final class SessionCookie {
  private static final Duration LIFE = Duration.ofDays(180);

  private SessionCookie() {}

  static String name(HttpServerExchange exchange) {
    return exchange.isSecure() ? "__Host-layroom" : "layroom";
  }

  static void give(HttpServerExchange exchange, String token) {
    put(exchange, token, LIFE.toSeconds());
  }

  static void takeAway(HttpServerExchange exchange) {
    put(exchange, "", 0);
  }

  private static void put(HttpServerExchange exchange, String value, long seconds) {
    exchange
        .getResponseHeaders()
        .add(
            Headers.SET_COOKIE,
            name(exchange)
                + "="
                + value
                + "; Path=/; Max-Age="
                + seconds
                + "; HttpOnly; SameSite=Strict"
                + (exchange.isSecure() ? "; Secure" : ""));
  }
}
