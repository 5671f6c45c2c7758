package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import io.undertow.util.Methods;
import java.io.IOException;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.backup.BackupFailure;
import org.layroom.dashboard.backup.Backups;
import org.layroom.dashboard.store.StoreFailure;
import org.tinylog.Logger;

/** A backup, to this machine only: whoever has it has everything that the shop has written down. */
final class BackupApi implements HttpHandler {
  private final Backups backups;

  BackupApi(Backups backups) {
    this.backups = backups;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) {
    if (!exchange.getRequestMethod().equals(Methods.GET)) {
      exchange.getResponseHeaders().put(Headers.ALLOW, "GET");
      Exchanges.send(exchange, Problem.of(405, "Only GET is supported here."));
      return;
    }
    if (!(AccessFilter.visitor(exchange) instanceof Caller.Here)) {
      Exchanges.send(exchange, Problem.of(403, "Backups are available on this machine only."));
      return;
    }
    exchange.dispatch(() -> send(exchange));
  }

  private void send(HttpServerExchange exchange) {
    try {
      backups.write(
          () -> {
            exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, "application/zip");
            exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
            exchange.getResponseHeaders().put(Headers.CONTENT_DISPOSITION, "attachment");
            exchange.startBlocking();
            return exchange.getOutputStream();
          });
      exchange.endExchange();
    } catch (BackupFailure | StoreFailure e) {
      Exchanges.send(exchange, Problem.of(503, String.valueOf(e.getMessage())));
    } catch (IOException e) {
      Logger.warn(e, "A backup was interrupted");
      exchange.endExchange();
    }
  }
}
