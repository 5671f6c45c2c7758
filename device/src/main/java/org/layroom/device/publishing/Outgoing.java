package org.layroom.device.publishing;

import org.layroom.device.telemetry.Topic;

/** One message as it goes to the broker. */
final class Outgoing {
  private final Topic topic;
  private final byte[] body;

  Outgoing(Topic topic, byte[] body) {
    this.topic = topic;
    this.body = body;
  }

  Topic topic() {
    return topic;
  }

  byte[] body() {
    return body;
  }
}
