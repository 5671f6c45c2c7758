package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.undertow.server.handlers.sse.ServerSentEventConnection;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.tinylog.Logger;

/**
 * The open event connections of pages. Each holds at most one message on its way: a page too slow
 * to read skips pictures instead of filling the server's memory.
 */
final class EventStream {
  /** More pages at once than a shop has; a further one is turned away. */
  private static final int MOST_LISTENERS = 64;

  private final Set<Listener> listeners = ConcurrentHashMap.newKeySet();

  /** Whether one more page may listen. */
  boolean hasPlace() {
    return listeners.size() < MOST_LISTENERS;
  }

  int size() {
    return listeners.size();
  }

  void add(ServerSentEventConnection connection, Supplier<JsonNode> picture) {
    Listener listener = new Listener(connection, picture);
    listeners.add(listener);
    connection.addCloseTask(closed -> listeners.remove(listener));
    if (!connection.isOpen()) {
      listeners.remove(listener);
      return;
    }
    listener.offer();
  }

  /** Sends every page that keeps up a new picture of its room. */
  void refresh() {
    listeners.forEach(Listener::offer);
  }

  /** Says that the server is there though nothing has changed. */
  void alive() {
    listeners.forEach(Listener::alive);
  }

  void close() {
    for (Listener listener : listeners) {
      try {
        listener.connection.close();
      } catch (IOException e) {
        Logger.debug(e, "Closing an event connection");
      }
    }
  }

  private static final class Listener implements ServerSentEventConnection.EventCallback {
    private final ServerSentEventConnection connection;
    private final Supplier<JsonNode> picture;
    private boolean sending;
    private boolean wanted;

    Listener(ServerSentEventConnection connection, Supplier<JsonNode> picture) {
      this.connection = connection;
      this.picture = picture;
    }

    void offer() {
      synchronized (this) {
        if (sending) {
          wanted = true;
          return;
        }
        sending = true;
      }
      try {
        String data = new String(Exchanges.bytes(picture.get()), StandardCharsets.UTF_8);
        connection.send(data, "room", null, this);
      } catch (RuntimeException e) {
        Logger.error(e, "No picture of the room for a page");
        finished();
      }
    }

    void alive() {
      synchronized (this) {
        if (sending) {
          return;
        }
        sending = true;
      }
      connection.send("", "alive", null, this);
    }

    private void finished() {
      synchronized (this) {
        sending = false;
        wanted = false;
      }
    }

    @Override
    public void done(ServerSentEventConnection connection, String data, String event, String id) {
      boolean again;
      synchronized (this) {
        sending = false;
        again = wanted;
        wanted = false;
      }
      if (again) {
        offer();
      }
    }

    @Override
    public void failed(
        ServerSentEventConnection connection, String data, String event, String id, IOException e) {
      finished();
    }
  }
}
