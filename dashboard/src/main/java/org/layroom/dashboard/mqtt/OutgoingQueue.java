package org.layroom.dashboard.mqtt;

import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What waits to be published. Of a retained topic only the newest message waits, and one at a time
 * is on its way, so that a slow broker sees the last state and not every step to it.
 */
final class OutgoingQueue {
  private static final int MOST_WAITING = 10_000;
  private static final int MOST_ON_THE_WAY = 40;

  /** One message to send. */
  static final class Message {
    private final String key;
    private final String topic;
    private final byte[] body;
    private final boolean retained;

    private Message(String key, String topic, byte[] body, boolean retained) {
      this.key = key;
      this.topic = topic;
      this.body = body;
      this.retained = retained;
    }

    String topic() {
      return topic;
    }

    byte[] body() {
      return body;
    }

    boolean retained() {
      return retained;
    }
  }

  private final Map<String, Message> waiting = new LinkedHashMap<>();
  private final Map<String, Message> onTheWay = new HashMap<>();
  private long counter;

  /** False when too many messages wait; the oldest of them is dropped. */
  synchronized boolean add(String topic, byte[] body, boolean retained) {
    String key = retained ? topic : topic + "#" + counter++;
    boolean room = waiting.size() < MOST_WAITING || waiting.containsKey(key);
    if (!room) {
      Iterator<String> oldest = waiting.keySet().iterator();
      oldest.next();
      oldest.remove();
    }
    waiting.put(key, new Message(key, topic, body, retained));
    return room;
  }

  /** The next message that may be sent now; it counts as on its way. */
  synchronized Optional<Message> next() {
    if (onTheWay.size() >= MOST_ON_THE_WAY) {
      return Optional.empty();
    }
    Iterator<Message> messages = waiting.values().iterator();
    while (messages.hasNext()) {
      Message message = messages.next();
      if (onTheWay.putIfAbsent(message.key, message) == null) {
        messages.remove();
        return Optional.of(message);
      }
    }
    return Optional.empty();
  }

  /** The broker has it. */
  synchronized void done(Message message) {
    onTheWay.remove(message.key, message);
  }

  /** The message could not be sent; it waits again unless a newer one does. */
  synchronized void failed(Message message) {
    if (onTheWay.remove(message.key, message)) {
      waiting.putIfAbsent(message.key, message);
    }
  }

  /** The connection is gone, and with it the word on everything that was on its way. */
  synchronized void connectionGone() {
    List.copyOf(onTheWay.values()).forEach(this::failed);
  }
}
