package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.Headers;
import io.undertow.util.Methods;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * What is kept, as CSV to take away; written while it is read, so that no year fills the memory.
 */
final class ExportApi implements HttpHandler {
  private static final Duration USUAL = Duration.ofDays(7);

  private final Api api;
  private final RoomAnswers rooms;
  private final JobAnswers jobs;

  ExportApi(Api api, RoomAnswers rooms, JobAnswers jobs) {
    this.api = api;
    this.rooms = rooms;
    this.jobs = jobs;
  }

  private interface Writing {
    void to(Writer out) throws IOException;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) {
    if (!exchange.getRequestMethod().equals(Methods.GET)) {
      Exchanges.send(exchange, Problem.of(405, "Only GET is understood here."));
      return;
    }
    exchange.dispatch(
        () -> {
          try {
            send(exchange, writing(exchange));
          } catch (Problem problem) {
            Exchanges.send(exchange, problem);
          } catch (IOException | RuntimeException e) {
            Logger.warn(e, "An export broke off");
            exchange.endExchange();
          }
        });
  }

  private Writing writing(HttpServerExchange exchange) {
    RoomName room = api.roomName(exchange);
    String what = Exchanges.parameter(exchange, "what").orElse("readings");
    if (what.equals("jobs")) {
      return out -> jobs.csv(room, out);
    }
    if (!what.equals("readings")) {
      throw Problem.badField("what", what, "readings or jobs");
    }
    Instant to = Api.optionalTime(exchange, "to").orElseGet(() -> rooms.now(room).plusSeconds(1));
    Instant from = Api.optionalTime(exchange, "from").orElseGet(() -> to.minus(USUAL));
    if (!from.isBefore(to)) {
      throw Problem.badField("to", to.toString(), "must come after from");
    }
    return out -> rooms.readings(room, from, to, out);
  }

  private static void send(HttpServerExchange exchange, Writing writing) throws IOException {
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, "text/csv; charset=utf-8");
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
    exchange.getResponseHeaders().put(Headers.CONTENT_DISPOSITION, "attachment");
    exchange.startBlocking();
    try (Writer out =
        new BufferedWriter(
            new OutputStreamWriter(exchange.getOutputStream(), StandardCharsets.UTF_8))) {
      writing.to(out);
    }
    exchange.endExchange();
  }
}
