package org.layroom.dashboard.web;

import io.undertow.server.HttpServerExchange;
import io.undertow.util.HeaderMap;
import io.undertow.util.Headers;
import java.net.InetSocketAddress;
import java.util.Locale;
import java.util.Set;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.access.HostNames;

/**
 * What is given to this machine alone, whoever is paired: a loopback connection, under a loopback
 * name, that nobody says to have forwarded.
 */
final class LocalOnly {
  private static final String FORWARDED_PREFIX = "x-forwarded";
  private static final Set<String> FORWARDING =
      Set.of(
          "forwarded",
          "via",
          "x-real-ip",
          "x-client-ip",
          "x-cluster-client-ip",
          "x-original-host",
          "x-original-forwarded-for",
          "client-ip",
          "true-client-ip",
          "cf-connecting-ip",
          "forwarded-for");

  private LocalOnly() {}

  /** Whether a request comes from this machine, whatever else is wrong with it. */
  static boolean asks(HttpServerExchange exchange) {
    InetSocketAddress peer = exchange.getSourceAddress();
    return peer.getAddress() != null
        && peer.getAddress().isLoopbackAddress()
        && HostNames.isLoopback(host(exchange.getRequestHeaders()))
        && !forwarded(exchange.getRequestHeaders());
  }

  private static boolean forwarded(HeaderMap headers) {
    return headers.getHeaderNames().stream()
        .map(name -> name.toString().toLowerCase(Locale.ROOT))
        .anyMatch(name -> name.startsWith(FORWARDED_PREFIX) || FORWARDING.contains(name));
  }

  /** The host that was asked for, without its port; empty when there is none or more than one. */
  static String host(HeaderMap headers) {
    if (headers.count(Headers.HOST) != 1) {
      return "";
    }
    String host = headers.getFirst(Headers.HOST);
    int port = host.lastIndexOf(':');
    return port > host.lastIndexOf(']') ? host.substring(0, port) : host;
  }

  static void require(HttpServerExchange exchange) {
    if (!(AccessFilter.visitor(exchange) instanceof Caller.Here)) {
      throw Problem.of(403, "This is available on this machine only.");
    }
  }
}
