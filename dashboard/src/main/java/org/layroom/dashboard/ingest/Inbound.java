package org.layroom.dashboard.ingest;

import java.time.Instant;
import java.util.Optional;

/** One message as it came in. */
public final class Inbound {
  private final String topic;
  private final byte[] body;
  private final Instant received;
  private final Optional<Instant> linkedSince;
  private final Runnable acknowledge;

  /**
   * Wraps a message; the body is not copied and must not change.
   *
   * @param received on the room's clock
   * @param linkedSince since when the dashboard has been connected without a break, on the same
   *     clock
   * @param acknowledge tells the broker that the message is done
   */
  public Inbound(
      String topic,
      byte[] body,
      Instant received,
      Optional<Instant> linkedSince,
      Runnable acknowledge) {
    this.topic = topic;
    this.body = body;
    this.received = received;
    this.linkedSince = linkedSince;
    this.acknowledge = acknowledge;
  }

  String topic() {
    return topic;
  }

  byte[] body() {
    return body;
  }

  Instant received() {
    return received;
  }

  Optional<Instant> linkedSince() {
    return linkedSince;
  }

  void acknowledge() {
    acknowledge.run();
  }
}
