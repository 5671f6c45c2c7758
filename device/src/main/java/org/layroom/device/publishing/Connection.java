package org.layroom.device.publishing;

import java.io.IOException;
import java.time.Duration;
import java.util.Optional;
import java.util.function.DoubleSupplier;
import org.layroom.device.telemetry.Channel;
import org.tinylog.Logger;

/**
 * The publisher's one connection at a time: which link it is, how much the broker has not yet
 * taken, and how long to wait before the next try. Times are real running time. For one thread.
 */
final class Connection {
  /** A connection on which nothing is taken for this long is deaf, whatever it says of itself. */
  static final Duration DEAF = Duration.ofSeconds(60);

  static final Duration LAST_RETRY = Duration.ofSeconds(30);
  private static final Duration FIRST_RETRY = Duration.ofMillis(250);

  private final BrokerAddress address;
  private final Channel channel;
  private final DoubleSupplier chance;
  private Optional<BrokerLink> link = Optional.empty();
  private boolean connected;
  private int inFlight;
  private Duration lastTaken = Duration.ZERO;
  private Duration retry = FIRST_RETRY;
  private String lastReason = "";
  private boolean left;

  /**
   * None yet.
   *
   * @param chance from 0 to under 1: devices that lost one broker at one moment come back at many
   */
  Connection(BrokerAddress address, Channel channel, DoubleSupplier chance) {
    this.address = address;
    this.channel = channel;
    this.chance = chance;
  }

  /** The link, connected or still connecting. */
  Optional<BrokerLink> link() {
    return link;
  }

  boolean isCurrent(BrokerLink which) {
    return link.isPresent() && link.get() == which;
  }

  boolean connected() {
    return connected;
  }

  /** Begins to connect, unless there is a link already or none is wanted any more. */
  void open(BrokerLink.Events events) throws IOException {
    if (!left && link.isEmpty()) {
      link = Optional.of(BrokerLink.open(address, channel, events));
    }
  }

  void connected(Duration now) {
    connected = true;
    inFlight = 0;
    lastTaken = now;
    retry = FIRST_RETRY;
    lastReason = "";
  }

  void lost() {
    connected = false;
    link = Optional.empty();
  }

  /** For good: what is on its way is still handed over. */
  void leave() {
    left = true;
    link.ifPresent(BrokerLink::goodbye);
    link = Optional.empty();
  }

  boolean takesMore() {
    return connected && link.isPresent() && inFlight < BrokerLink.MOST_IN_FLIGHT;
  }

  void publish(Outgoing message, Duration now) throws IOException {
    if (link.isPresent()) {
      link.get().publish(message.topic(), message.body());
      if (inFlight++ == 0) {
        lastTaken = now;
      }
    }
  }

  /** The broker has taken one message. */
  void taken(Duration now) {
    inFlight--;
    lastTaken = now;
  }

  boolean deaf(Duration now) {
    return inFlight > 0 && now.minus(lastTaken).compareTo(DEAF) > 0;
  }

  /**
   * An attempt has failed, or the connection is gone. How long to wait before the next try: each
   * time twice as long, up to half a minute, times 0.5 to 1.5 by chance; empty when none is wanted
   * any more.
   */
  Optional<Duration> failed(String reason) {
    if (left) {
      return Optional.empty();
    }
    if (!reason.equals(lastReason)) {
      Logger.warn("No broker at {}: {}. Samples are saved until then", address.uri(), reason);
      lastReason = reason;
    }
    Duration wait = Duration.ofNanos(Math.round(retry.toNanos() * (0.5 + chance.getAsDouble())));
    Duration doubled = retry.multipliedBy(2);
    retry = doubled.compareTo(LAST_RETRY) > 0 ? LAST_RETRY : doubled;
    return Optional.of(wait);
  }
}
