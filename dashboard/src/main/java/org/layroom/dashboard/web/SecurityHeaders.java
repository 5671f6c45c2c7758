package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.HeaderMap;
import io.undertow.util.Headers;
import io.undertow.util.HttpString;
import java.util.LinkedHashMap;
import java.util.Map;
import org.layroom.dashboard.access.HostNames;

/**
 * What every answer tells the browser: run and load nothing but the page's own files, show it in
 * nobody else's frame, tell nobody where one comes from, keep no answer of the API.
 */
final class SecurityHeaders implements HttpHandler {
  private static final Map<HttpString, String> ALWAYS = new LinkedHashMap<>();

  static {
    always(
        "Content-Security-Policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src"
            + " 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'");
    always("X-Content-Type-Options", "nosniff");
    always("X-Frame-Options", "DENY");
    always("Referrer-Policy", "no-referrer");
    always(
        "Permissions-Policy",
        "camera=(), microphone=(), geolocation=(), usb=(), serial=(), payment=()");
    always("Cross-Origin-Resource-Policy", "same-origin");
  }

  /** A window of its own; browsers know this only where nobody can change what is sent. */
  private static final HttpString OPENER = new HttpString("Cross-Origin-Opener-Policy");

  /** Half a year; only this host, whose plain page is for this machine alone once there is TLS. */
  private static final String ONLY_TLS = "max-age=15552000";

  private final HttpHandler next;

  SecurityHeaders(HttpHandler next) {
    this.next = next;
  }

  private static void always(String name, String value) {
    ALWAYS.put(new HttpString(name), value);
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    HeaderMap headers = exchange.getResponseHeaders();
    ALWAYS.forEach(headers::put);
    headers.put(Headers.CACHE_CONTROL, "no-store");
    if (exchange.isSecure() || HostNames.isLoopback(LocalOnly.host(exchange.getRequestHeaders()))) {
      headers.put(OPENER, "same-origin");
    }
    if (exchange.isSecure()) {
      headers.put(Headers.STRICT_TRANSPORT_SECURITY, ONLY_TLS);
    }
    next.handleRequest(exchange);
  }
}
