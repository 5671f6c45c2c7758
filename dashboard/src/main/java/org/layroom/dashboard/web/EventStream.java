package org.layroom.dashboard.web;

import com.fasterxml.jackson.databind.JsonNode;
import io.undertow.server.handlers.sse.ServerSentEventConnection;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.tinylog.Logger;
import org.xnio.IoUtils;

/**
 * The open event connections of pages. A picture is made once a round and sent to all who watch the
 * same. Each holds at most one message on its way: a page too slow to read skips pictures instead
 * of filling the server's memory. When there are more than a shop has pages, whoever holds most of
 * them loses the oldest, so that no one keeps the others out.
 */
final class EventStream {
  static final int MOST_LISTENERS = 64;

  private final Set<Listener> listeners = ConcurrentHashMap.newKeySet();
  private final AtomicLong numbers = new AtomicLong();
  private final Map<Object, String> pictures = new ConcurrentHashMap<>();

  /**
   * Who listens.
   *
   * @param name shared by all streams of one session
   * @param still whether that may go on
   */
  record Holder(String name, BooleanSupplier still) {}

  int size() {
    return listeners.size();
  }

  /**
   * Sends a picture each round.
   *
   * @param what who watches the same gets the same picture
   */
  void addPicture(
      ServerSentEventConnection connection,
      Holder holder,
      Object what,
      Supplier<? extends JsonNode> picture) {
    add(
        connection,
        holder,
        "room",
        () -> Optional.of(pictures.computeIfAbsent(what, any -> text(picture.get()))));
  }

  /** Sends, each round, what has changed. */
  void addChanges(
      ServerSentEventConnection connection,
      Holder holder,
      String event,
      Supplier<Optional<JsonNode>> changes) {
    add(connection, holder, event, () -> changes.get().map(EventStream::text));
  }

  private static String text(JsonNode json) {
    return new String(Exchanges.bytes(json), StandardCharsets.UTF_8);
  }

  private void add(
      ServerSentEventConnection connection,
      Holder holder,
      String event,
      Supplier<Optional<String>> data) {
    Listener listener = new Listener(numbers.incrementAndGet(), connection, holder, event, data);
    listeners.add(listener);
    connection.addCloseTask(closed -> listeners.remove(listener));
    if (!connection.isOpen()) {
      listeners.remove(listener);
      return;
    }
    makeRoom();
    listener.offer();
  }

  private void makeRoom() {
    if (listeners.size() <= MOST_LISTENERS) {
      return;
    }
    Map<String, List<Listener>> held =
        listeners.stream().collect(Collectors.groupingBy(one -> one.holder.name()));
    held.values().stream()
        .max(Comparator.comparingInt(List::size))
        .flatMap(most -> most.stream().min(Comparator.comparingLong(one -> one.number)))
        .ifPresent(this::end);
  }

  private void end(Listener listener) {
    listeners.remove(listener);
    IoUtils.safeClose(listener.connection);
  }

  /** Ends what is listened to by somebody who may not any more. */
  void endThoseOutside() {
    listeners.stream().filter(one -> !one.holder.still().getAsBoolean()).forEach(this::end);
  }

  /** Sends every page that keeps up a new picture of its room. */
  void refresh() {
    endThoseOutside();
    pictures.clear();
    listeners.forEach(Listener::offer);
  }

  /** Says that the server is there though nothing has changed. */
  void alive() {
    listeners.forEach(Listener::alive);
  }

  void close() {
    listeners.forEach(this::end);
  }

  private static final class Listener implements ServerSentEventConnection.EventCallback {
    private final long number;
    private final ServerSentEventConnection connection;
    private final Holder holder;
    private final String event;
    private final Supplier<Optional<String>> data;
    private boolean sending;
    private boolean wanted;

    Listener(
        long number,
        ServerSentEventConnection connection,
        Holder holder,
        String event,
        Supplier<Optional<String>> data) {
      this.number = number;
      this.holder = holder;
      this.connection = connection;
      this.event = event;
      this.data = data;
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
        Optional<String> said = data.get();
        if (said.isPresent()) {
          connection.send(said.get(), event, null, this);
        } else {
          finished();
        }
      } catch (RuntimeException e) {
        Logger.error(e, "Nothing to say to a page");
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
