package org.layroom.dashboard.web;

import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import java.net.InetSocketAddress;

/** What is given to this machine alone, whoever is paired: a forwarded request is another's. */
final class ThisMachine {
  private ThisMachine() {}

  static boolean asks(HttpServerExchange exchange) {
    InetSocketAddress peer = exchange.getSourceAddress();
    return peer.getAddress() != null
        && peer.getAddress().isLoopbackAddress()
        && !exchange.getRequestHeaders().contains(Headers.X_FORWARDED_FOR)
        && !exchange.getRequestHeaders().contains(Headers.FORWARDED);
  }

  static void require(HttpServerExchange exchange) {
    if (!asks(exchange)) {
      throw Problem.of(403, "This is given to this machine only.");
    }
  }
}
