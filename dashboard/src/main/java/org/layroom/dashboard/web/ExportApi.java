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
import java.util.concurrent.Semaphore;
import org.layroom.dashboard.answer.RoomAnswers;
import org.layroom.dashboard.answer.job.JobAnswers;
import org.layroom.device.telemetry.RoomName;
import org.tinylog.Logger;

/**
 * What is kept, as CSV or JSON to take away; written while it is read, so that no year fills the
 * memory.
 */
final class ExportApi implements HttpHandler {
  private static final Duration USUAL = Duration.ofDays(7);

  /** Each holds a thread as long as somebody reads, so that there are never many. */
  private static final int MOST_AT_ONCE = 2;

  private final Semaphore busy = new Semaphore(MOST_AT_ONCE);
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
      Exchanges.send(exchange, Problem.of(405, "Only GET is supported here."));
      return;
    }
    exchange.dispatch(
        () -> {
          try {
            send(exchange, writing(exchange));
          } catch (Problem problem) {
            Exchanges.send(exchange, problem);
          } catch (IOException | RuntimeException e) {
            Logger.warn(e, "An export was interrupted");
            exchange.endExchange();
          }
        });
  }

  private Writing writing(HttpServerExchange exchange) {
    RoomName room = api.roomName(exchange);
    String what = Exchanges.parameter(exchange, "what").orElse("readings");
    boolean json = json(exchange);
    if (what.equals("jobs")) {
      return out -> {
        if (json) {
          jobs.json(room, out);
        } else {
          jobs.csv(room, out);
        }
      };
    }
    if (!what.equals("readings")) {
      throw Problem.badField("what", what, "readings or jobs");
    }
    Instant to = Api.optionalEnd(exchange, "to").orElseGet(() -> rooms.now(room).plusSeconds(1));
    Instant from = Api.optionalTime(exchange, "from").orElseGet(() -> to.minus(USUAL));
    if (!from.isBefore(to)) {
      throw Problem.badField("to", to.toString(), "must come after from");
    }
    return out -> {
      if (json) {
        rooms.readingsJson(room, from, to, out);
      } else {
        rooms.readings(room, from, to, out);
      }
    };
  }

  private static boolean json(HttpServerExchange exchange) {
    String format = Exchanges.parameter(exchange, "format").orElse("csv");
    return switch (format) {
      case "csv" -> false;
      case "json" -> true;
      default -> throw Problem.badField("format", format, "csv or json");
    };
  }

  /** The place is free again before the reader sees the end, so that a next one finds it. */
  private void send(HttpServerExchange exchange, Writing writing) throws IOException {
    if (!busy.tryAcquire()) {
      throw Problem.of(503, "Two exports are already running. Try again in a minute.");
    }
    Writer out;
    try {
      out = begin(exchange);
      writing.to(out);
      out.flush();
    } finally {
      busy.release();
    }
    out.close();
    exchange.endExchange();
  }

  private static Writer begin(HttpServerExchange exchange) {
    exchange
        .getResponseHeaders()
        .put(Headers.CONTENT_TYPE, json(exchange) ? "application/json" : "text/csv; charset=utf-8");
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "no-store");
    exchange.getResponseHeaders().put(Headers.CONTENT_DISPOSITION, "attachment");
    exchange.startBlocking();
    return new BufferedWriter(
        new OutputStreamWriter(exchange.getOutputStream(), StandardCharsets.UTF_8));
  }
}
