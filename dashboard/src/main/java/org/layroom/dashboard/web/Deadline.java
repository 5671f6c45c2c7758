package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import java.util.Set;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.TimeUnit;
import org.xnio.IoUtils;
import org.xnio.XnioExecutor;

/**
 * A request and its answer are over within half a minute, or the connection is closed, however
 * slowly one end sends or reads. Live events and files to take away last longer: there each piece
 * has a time of its own (the server's write timeout).
 */
final class Deadline implements HttpHandler {
  private static final int SECONDS = 30;
  private static final Set<String> LONGER = Set.of("/api/events", "/api/export", "/api/backup");

  private final HttpHandler next;

  Deadline(HttpHandler next) {
    this.next = next;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    if (!LONGER.contains(exchange.getRequestPath())) {
      try {
        set(exchange);
      } catch (RejectedExecutionException e) {
        IoUtils.safeClose(exchange.getConnection()); // the server is about to end
        return;
      }
    }
    next.handleRequest(exchange);
  }

  private static void set(HttpServerExchange exchange) {
    XnioExecutor.Key end =
        exchange
            .getIoThread()
            .executeAfter(
                () -> IoUtils.safeClose(exchange.getConnection()), SECONDS, TimeUnit.SECONDS);
    exchange.addExchangeCompleteListener(
        (done, more) -> {
          end.remove();
          more.proceed();
        });
  }
}
