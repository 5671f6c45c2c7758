package org.layroom.dashboard.web;

import io.undertow.server.HttpHandler;
import io.undertow.server.HttpServerExchange;
import io.undertow.server.handlers.sse.ServerSentEventHandler;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.access.Caller;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;

/**
 * A room's pictures, or what changes in the list of all rooms.
 *
 * <p>Checks a page's wish to listen before the event stream is opened, so that it can be refused;
 * it ends with the session that it was opened by.
 */
final class EventAccess implements HttpHandler {
  private final Api api;
  private final EventStream events;
  private final RoomBoard board;
  private final AccessControl door;

  EventAccess(Api api, EventStream events, RoomBoard board, AccessControl door) {
    this.api = api;
    this.events = events;
    this.board = board;
    this.door = door;
  }

  @Override
  public void handleRequest(HttpServerExchange exchange) throws Exception {
    Caller visitor = AccessFilter.visitor(exchange);
    EventStream.Holder holder = new EventStream.Holder(visitor.holder(), () -> still(visitor));
    Optional<String> rooms = Exchanges.parameter(exchange, "rooms");
    if (rooms.isPresent()) {
      if (!rooms.get().equals("all")) {
        Exchanges.send(
            exchange, Problem.badField("rooms", rooms.get(), "use all, or room= for one room"));
        return;
      }
      new ServerSentEventHandler(
              (connection, lastEventId) ->
                  events.addChanges(connection, holder, "rooms", board.ear()))
          .handleRequest(exchange);
      return;
    }
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
                events.addPicture(
                    connection,
                    holder,
                    List.of(room, id),
                    () -> api.picture(room, api.materialNamed(id))))
        .handleRequest(exchange);
  }

  private boolean still(Caller visitor) {
    return visitor instanceof Caller.Paired paired
        ? door.still(paired.session())
        : !(visitor instanceof Caller.Program program) || door.still(program.session());
  }
}
