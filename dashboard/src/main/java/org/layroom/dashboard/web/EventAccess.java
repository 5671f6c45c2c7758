package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.server.handlers.sse.ServerSentEventHandler;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;

/**
 * Checks a page's wish to listen before the event stream is opened, so that it can be refused; it
 * ends with the session that it was opened by.
 */
final class EventAccess implements HttpHandler {
  private final Api api;
  private final EventStream events;
  private final AccessControl door;

  EventAccess(Api api, EventStream events, AccessControl door) {
    this.api = api;
    this.events = events;
    this.door = door;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    Caller visitor = AccessFilter.visitor(exchange);
    RoomName room;
    MaterialShelf.Entry material;
    try {
      room = api.roomName(exchange);
      material = api.material(exchange);
    } catch (Problem problem) {
      Exchanges.send(exchange, problem);
      return;
    }
    String id = material.material().id();
    new ServerSentEventHandler(
            (connection, lastEventId) ->
                events.add(
                    connection,
                    new EventStream.Holder(visitor.holder(), () -> still(visitor)),
                    () -> api.picture(room, api.materialNamed(id))))
        .handleRequest(exchange);
  }

  private boolean still(Caller visitor) {
    return !(visitor instanceof Caller.Paired paired) || door.still(paired.session());
  }
}
