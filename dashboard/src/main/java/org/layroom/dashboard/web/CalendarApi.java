package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.util.ETag;
import io.undertow.util.ETagUtils;
import io.undertow.util.Headers;
import io.undertow.util.StatusCodes;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.UUID;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.calendar.RoomCalendar;
import org.layroom.device.telemetry.RoomName;

/**
 * Calendars to subscribe to, {@code /calendar/TOKEN/ROOM.ics}: calendars send neither cookie nor
 * header, so the path itself is what nobody can guess. And one event of a part by itself.
 */
final class CalendarApi {
  /** Where calendars are fetched; who comes is asked here and not at the door. */
  static final String FEEDS = "/calendar/";

  private static final String SUFFIX = ".ics";

  private final Api api;
  private final RoomCalendar calendar;
  private final AccessControl door;

  CalendarApi(Api api, RoomCalendar calendar, AccessControl door) {
    this.api = api;
    this.calendar = calendar;
    this.door = door;
  }

  HttpHandler feed() {
    return Exchanges.getting(
        exchange -> {
          String[] parts = exchange.getRequestPath().substring(FEEDS.length()).split("/", -1);
          if (parts.length != 2
              || !parts[1].endsWith(SUFFIX)
              || door.enterProgram(parts[0]).isEmpty()) {
            throw Problem.of(
                404, "No calendar is here. Make its address with: layroom token --calendar NAME");
          }
          String name = parts[1].substring(0, parts[1].length() - SUFFIX.length());
          send(exchange, calendar.feed(api.room("room", name)));
        });
  }

  /** One window of a part, by the id that the part's own answer gives. */
  HttpHandler one() {
    return Exchanges.getting(
        exchange -> {
          RoomName room = api.roomName(exchange);
          String id = Exchanges.parameter(exchange, "window").orElse("");
          Optional<String> one = calendar.one(room, id);
          exchange
              .getResponseHeaders()
              .put(Headers.CONTENT_DISPOSITION, "attachment; filename=\"layroom.ics\"");
          send(
              exchange,
              one.orElseThrow(
                  () -> Problem.notFound("window", id, "no window of this id is to come")));
        });
  }

  private static void send(HttpServerExchange exchange, String text) {
    ETag tag =
        new ETag(false, UUID.nameUUIDFromBytes(text.getBytes(StandardCharsets.UTF_8)).toString());
    exchange.getResponseHeaders().put(Headers.ETAG, tag.toString());
    exchange.getResponseHeaders().put(Headers.CACHE_CONTROL, "private, no-cache");
    if (!ETagUtils.handleIfNoneMatch(exchange, tag, true)) {
      exchange.setStatusCode(StatusCodes.NOT_MODIFIED);
      exchange.endExchange();
      return;
    }
    exchange.getResponseHeaders().put(Headers.CONTENT_TYPE, "text/calendar; charset=utf-8");
    exchange.getResponseSender().send(text, StandardCharsets.UTF_8);
  }
}
