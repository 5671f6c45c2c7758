package org.layroom.dashboard.web;

import io.undertow.server.HttpServerExchange;
import io.undertow.server.handlers.Cookie;
import io.undertow.util.Headers;
import java.time.Duration;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;

/**
 * The cookie of a paired device: not for scripts, not for other sites' requests, and under TLS
 * bound to this very host ({@code __Host-}, RFC 6265bis). Browsers keep cookies by host and not by
 * port (RFC 6265, section 8.5), so each dashboard has a name of its own for it; two on one host do
 * not put each other's devices out. The name that all had before is still read.
 */
final class SessionCookie {
  private static final Duration LIFE = Duration.ofDays(180);

  private static final String FORMER = "layroom";

  private final String name;

  /** The cookie of a dashboard. */
  SessionCookie(String name) {
    this.name = name;
  }

  private static String on(HttpServerExchange exchange, String name) {
    return exchange.isSecure() ? "__Host-" + name : name;
  }

  /**
   * What the request shows to come in with, the dashboard's own name first.
   *
   * @throws IllegalStateException when there are too many cookies
   * @throws IllegalArgumentException when they cannot be read
   */
  List<String> tokens(HttpServerExchange exchange) {
    return Stream.of(name, FORMER)
        .map(one -> exchange.getRequestCookie(on(exchange, one)))
        .filter(Objects::nonNull)
        .map(Cookie::getValue)
        .toList();
  }

  void give(HttpServerExchange exchange, String token) {
    put(exchange, token, LIFE.toSeconds());
  }

  void takeAway(HttpServerExchange exchange) {
    put(exchange, "", 0);
  }

  private void put(HttpServerExchange exchange, String value, long seconds) {
    exchange
        .getResponseHeaders()
        .add(
            Headers.SET_COOKIE,
            on(exchange, name)
                + "="
                + value
                + "; Path=/; Max-Age="
                + seconds
                + "; HttpOnly; SameSite=Strict"
                + (exchange.isSecure() ? "; Secure" : ""));
  }
}
