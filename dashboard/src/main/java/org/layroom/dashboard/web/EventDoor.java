package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;

/** Checks a page's wish to listen before the event stream is opened, so that it can be refused. */
final class EventDoor implements HttpHandler {
  private final Api api;
  private final EventStream events;
  private final HttpHandler live;

  EventDoor(Api api, EventStream events, HttpHandler live) {
    this.api = api;
    this.events = events;
    this.live = live;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    if (!events.hasPlace()) {
      Exchanges.send(
          exchange,
          Problem.of(503, "Too many pages are open; close some and load this one again."));
      return;
    }
    try {
      String room = api.roomName(exchange).value();
      String material = api.material(exchange).material().id();
      exchange.getQueryParameters().put("room", deque(room));
      exchange.getQueryParameters().put("material", deque(material));
    } catch (Problem problem) {
      Exchanges.send(exchange, problem);
      return;
    }
    live.handleRequest(exchange);
  }

  private static Deque<String> deque(String value) {
    return new ArrayDeque<>(List.of(value));
  }
}
