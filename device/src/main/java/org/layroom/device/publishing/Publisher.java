package org.layroom.device.publishing;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.Consumer;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.OutboxAppend;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.RealPace;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.StoredMark;
import org.tinylog.Logger;

/**
 * Sends samples to the broker, newest first and then the backlog oldest first, until the
 * dashboard's mark says that they are stored. One thread of real time does all of it; the MQTT
 * client's callbacks only hand over to that thread.
 */
public final class Publisher implements AutoCloseable {
  private static final Duration LOOK_AFTER = Duration.ofSeconds(2);

  private final BrokerAddress address;
  private final Outbox outbox;
  private final Pace pace;
  private final RealPace transport = new RealPace();
  private final SendGate gate = new SendGate();
  private final Connection connection;
  private final RetainedState retained;
  private final SendQueue queue;
  private final Inbox inbox;
  private final Resending resending;

  /**
   * A publisher that is not yet connecting.
   *
   * @param pace whose clocks date the samples; transport timers run on real time all the same
   */
  public Publisher(BrokerAddress address, Channel channel, Outbox outbox, Pace pace) {
    this(address, channel, outbox, pace, new ResendPolicy());
  }

  Publisher(
      BrokerAddress address, Channel channel, Outbox outbox, Pace pace, ResendPolicy patience) {
    this.address = address;
    this.connection = new Connection(address, channel, new Random()::nextDouble);
    this.outbox = outbox;
    this.pace = pace;
    this.queue = new SendQueue(channel, outbox, gate);
    this.retained = new RetainedState(patience.first());
    this.resending = new Resending(channel, outbox, queue, patience);
    this.inbox = new Inbox(channel, new Delivery());
  }

  /** Connects, and again whenever the connection is lost, until closed. */
  public void start() {
    post(this::connect);
    transport.every(LOOK_AFTER, this::lookAfter);
  }

  /** Takes over a sample that was just measured and what the outbox made of it. */
  public void offer(OutboxAppend appended, Sample sampled) {
    gate.moreWaiting(1);
    post(
        () -> {
          boolean sendsFresh = connection.connected() && !resending.refused();
          if (queue.take(appended, sampled, sendsFresh)) {
            resending.queued(transport.uptime());
          }
          pump();
        });
  }

  /**
   * Tells the broker which parts do not work and what values are corrected by now, when that has
   * changed.
   */
  public void state(List<PartFault> now, List<SensorOffset> corrected) {
    post(
        () -> {
          if (retained.state(now, corrected, pace.wallClockSet())) {
            pump();
          }
        });
  }

  /** Tells the broker what the air calls for, retained. */
  public void alarm(AlarmState now) {
    post(
        () -> {
          retained.alarm(now);
          pump();
        });
  }

  /** Hands on, on the publisher's thread, what somebody upstairs has acknowledged. */
  public void onAcknowledged(Consumer<Acknowledgment> listener) {
    post(() -> inbox.onAcknowledged(listener));
  }

  /** Hands on, on the publisher's thread, what was decided upstairs; may come again and again. */
  public void onSettings(Consumer<DeviceSettings> listener) {
    post(() -> inbox.onSettings(listener));
  }

  /**
   * Hands on, on the publisher's thread, the room's mix check as the dashboard says it; of one that
   * the broker had kept, and which may be old, only the can's temperatures.
   */
  public void onVerdict(Consumer<RoomVerdict> listener) {
    post(() -> inbox.onVerdict(listener));
  }

  /** Whether what is sent is refused somewhere on the way, as far as can be told. */
  boolean saysRefused() {
    return resending.saysRefused();
  }

  /**
   * Waits on the caller's thread until everything in the outbox is stored upstairs.
   *
   * @param patience in real time
   * @return whether it is
   */
  public boolean awaitStored(Duration patience) throws InterruptedException {
    return gate.await(patience, () -> outbox.mark() >= outbox.last());
  }

  /** Waits until the broker is connected, or for a real time at most. */
  public boolean awaitConnected(Duration patience) throws InterruptedException {
    return gate.await(patience, gate::open);
  }

  /** Waits while many fresh samples are not yet sent and a broker is there to take them. */
  public void awaitRoom(Duration patience) throws InterruptedException {
    gate.await(patience, () -> gate.waiting() < BrokerLink.MOST_IN_FLIGHT || !gate.open());
  }

  @Override
  public void close() {
    SendGate closed = new SendGate();
    post(
        () -> {
          connection.leave();
          closed.opened(true);
        });
    try {
      closed.await(Connection.LAST_RETRY, closed::open);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    transport.close();
  }

  private void post(Runnable task) {
    transport.after(Duration.ZERO, task);
  }

  private void connect() {
    try {
      connection.open(new Events());
    } catch (IOException e) {
      retryAfter(String.valueOf(e.getMessage()));
    }
  }

  private void retryAfter(String reason) {
    connection.failed(reason).ifPresent(wait -> transport.after(wait, this::connect));
  }

  private void onConnected(BrokerLink which) {
    if (!connection.isCurrent(which) || connection.connected()) {
      return;
    }
    Logger.info("Connected to {}, {} samples waiting", address.uri(), outbox.waiting());
    Duration now = transport.uptime();
    connection.connected(now);
    retained.connected(pace.uptime());
    resending.connected(now);
    try {
      for (String topic : inbox.topics()) {
        which.subscribe(topic);
      }
      send(queue.newest(ClockReading.of(pace)));
    } catch (IOException e) {
      onLost(which, String.valueOf(e.getMessage()));
      return;
    }
    gate.opened(true);
    pump();
  }

  private void onLost(BrokerLink which, String reason) {
    if (!connection.isCurrent(which)) {
      return;
    }
    if (connection.connected()) {
      Logger.warn("Connection to {} lost: {}", address.uri(), reason);
    }
    connection.lost();
    gate.opened(false);
    which.drop();
    retryAfter(reason);
  }

  private void onTaken(BrokerLink which) {
    if (connection.isCurrent(which)) {
      connection.taken(transport.uptime());
      pump();
    }
  }

  /** Every two seconds of real time: is anybody there, and is anything stored? */
  private void lookAfter() {
    Optional<BrokerLink> link = connection.link();
    if (!connection.connected() || link.isEmpty()) {
      return;
    }
    Duration now = transport.uptime();
    if (connection.deaf(now)) {
      onLost(link.get(), "the broker accepted nothing for " + Connection.DEAF.toSeconds() + " s");
    } else if (resending.overdue(now)) {
      pump();
    }
  }

  private void pump() {
    try {
      while (connection.takesMore() && sendNext()) {
        gate.changed();
      }
    } catch (IOException e) {
      connection.link().ifPresent(which -> onLost(which, String.valueOf(e.getMessage())));
    }
  }

  /** Sends what is most wanted now; false when there is nothing left. */
  private boolean sendNext() throws IOException {
    ClockReading clock = ClockReading.of(pace);
    Optional<Outgoing> state = retained.next(clock);
    return send(state.isPresent() ? state : queue.next(clock));
  }

  private boolean send(Optional<Outgoing> message) throws IOException {
    if (message.isPresent()) {
      connection.publish(message.get(), transport.uptime());
    }
    return message.isPresent();
  }

  /** What the dashboard says of the samples that it was sent. */
  private final class Delivery implements Inbox.Delivery {
    @Override
    public void stored(StoredMark stored) {
      if (resending.stored(stored, transport.uptime())) {
        gate.changed();
        pump();
      }
    }

    @Override
    public void dashboard(boolean there, boolean kept) {
      boolean heardNow = !kept && connection.connected();
      if (resending.dashboard(there, heardNow, transport.uptime())) {
        pump();
      }
    }
  }

  /** Hands over from the MQTT client's threads. */
  private final class Events implements BrokerLink.Events {
    @Override
    public void connected(BrokerLink which) {
      post(() -> onConnected(which));
    }

    @Override
    public void lost(BrokerLink which, String reason) {
      post(() -> onLost(which, reason));
    }

    @Override
    public void arrived(String topic, byte[] body, boolean kept) {
      post(() -> inbox.take(topic, body, kept));
    }

    @Override
    public void taken(BrokerLink which) {
      post(() -> onTaken(which));
    }
  }
}
