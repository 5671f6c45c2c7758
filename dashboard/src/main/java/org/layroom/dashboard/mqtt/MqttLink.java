package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.time.Duration;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Stream;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.jspecify.annotations.Nullable;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * Keeps one connection to the broker: connects, and connects again, for ever; notices when it is
 * connected and yet hears nothing, by sending itself a message through the broker; and publishes.
 * All its decisions are taken on the transport pace, one after the other.
 */
public final class MqttLink implements AutoCloseable {
  /** Outside every device's topics: three levels, not four. */
  static final String PING = "layroom/dashboard/ping";

  private static final Duration TURN = Duration.ofMillis(250);
  private static final Duration SHORT_LIVED = Duration.ofSeconds(10);
  private static final Duration PUT_OFF_PAUSE = Duration.ofSeconds(10);
  private static final int FIGHT_AFTER = 4;

  private static final String[] SUBSCRIPTIONS = {
    PING, Topic.READINGS.everyDevice(), Topic.STATUS.everyDevice(), Topic.ALARM.everyDevice()
  };
  private static final int[] SUBSCRIPTION_QOS = {0, Topic.QOS, Topic.QOS, Topic.QOS};

  private enum Phase {
    WAITING,
    CONNECTING,
    CONNECTED,
    CLOSED
  }

  private final LinkSettings settings;
  private final Pace transport;
  private final LinkListener listener;
  private final String instance = UUID.randomUUID().toString();
  private final OutgoingQueue outgoing = new OutgoingQueue();
  private final ConcurrentLinkedQueue<Runnable> inbox = new ConcurrentLinkedQueue<>();
  private final AtomicBoolean woken = new AtomicBoolean();
  private final Events events = new Events();

  private Phase phase = Phase.WAITING;
  private @Nullable LinkSession session;
  private boolean disposing;
  private boolean clean;
  private Duration phaseSince = Duration.ZERO;
  private Duration nextAttempt = Duration.ZERO;
  private Duration lastPing = Duration.ZERO;
  private Duration lastHeard = Duration.ZERO;
  private Optional<Duration> putOff = Optional.empty();
  private int failures;
  private int shortLived;
  private int deafInARow;
  private volatile LinkState state = new LinkState(false, 0, 0, Optional.of("not connected yet"));

  /**
   * Prepares a link; {@link #start()} begins to connect.
   *
   * @param transport real time, whatever pace the room runs on
   */
  public MqttLink(LinkSettings settings, Pace transport, LinkListener listener) {
    this.settings = settings;
    this.transport = transport;
    this.listener = listener;
  }

  /** Begins to connect and returns at once. A broker that is not there yet is waited for. */
  public void start() {
    transport.every(TURN, this::turn);
    post(() -> {});
  }

  /** How the link does now. */
  public LinkState state() {
    return state;
  }

  /**
   * Publishes with QoS 1, now or as soon as there is a connection. Of a retained topic only the
   * newest waits.
   */
  public void publish(String topic, byte[] body, boolean retained) {
    if (!outgoing.add(topic, body, retained)) {
      Logger.warn("Too many messages are waiting for the broker; the oldest was dropped");
    }
    post(() -> {});
  }

  /** Says good-bye and disconnects. A lasting session stays at the broker. */
  @Override
  public void close() {
    CountDownLatch closed = new CountDownLatch(1);
    post(
        () -> {
          phase = Phase.CLOSED;
          if (session == null) {
            closed.countDown();
          } else {
            session.dispose(true, closed::countDown);
          }
        });
    try {
      if (!closed.await(10, TimeUnit.SECONDS)) {
        Logger.warn("The broker did not confirm the disconnect");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void post(Runnable event) {
    inbox.add(event);
    if (woken.compareAndSet(false, true)) {
      transport.after(Duration.ZERO, this::turn);
    }
  }

  private void turn() {
    woken.set(false);
    for (Runnable event = inbox.poll(); event != null; event = inbox.poll()) {
      event.run();
    }
    Duration now = transport.uptime();
    switch (phase) {
      case WAITING -> {
        if (!disposing && now.compareTo(nextAttempt) >= 0) {
          attempt(now);
        }
      }
      case CONNECTING -> {
        if (over(now, phaseSince, settings.times().connectWithin())) {
          drop("no answer from " + settings.serverUri(), retryDelay());
        }
      }
      case CONNECTED -> listen(now);
      case CLOSED -> {}
    }
  }

  private static boolean over(Duration now, Duration since, Duration limit) {
    return now.minus(since).compareTo(limit) >= 0;
  }

  private void attempt(Duration now) {
    phase = Phase.CONNECTING;
    phaseSince = now;
    clean = !settings.lasting() || deafInARow >= 2;
    try {
      LinkSession next = new LinkSession(settings, events);
      session = next;
      next.connect(settings, clean, password());
    } catch (MqttException | IOException e) {
      drop(words(e), retryDelay());
    }
  }

  private Optional<char[]> password() throws IOException {
    if (settings.passwordFile().isEmpty()) {
      return Optional.empty();
    }
    return Files.readString(settings.passwordFile().get())
        .lines()
        .findFirst()
        .map(String::toCharArray);
  }

  private void up(LinkSession up) {
    if (phase == Phase.CLOSED) {
      return; // it connected while it was being closed
    }
    Duration now = transport.uptime();
    phase = Phase.CONNECTED;
    phaseSince = now;
    lastHeard = now;
    failures = 0;
    putOff = Optional.empty();
    state = new LinkState(true, state.connects() + 1, state.deafRestarts(), Optional.empty());
    Logger.info("Connected to the broker at {}", settings.serverUri());
    try {
      up.subscribe(SUBSCRIPTIONS, SUBSCRIPTION_QOS);
    } catch (MqttException e) {
      drop(words(e), retryDelay());
      return;
    }
    announce();
    ping(up, now);
    flush(up);
  }

  /**
   * Says that the dashboard is here, and again with each ping: a broker may lose a retained message
   * for one who subscribes in the very moment in which it is published.
   */
  private void announce() {
    outgoing.add(Topic.DASHBOARD, LinkSession.ONLINE, true);
  }

  private void listen(Duration now) {
    LinkSession current = session;
    if (current == null) {
      return;
    }
    if (over(now, lastHeard, settings.times().deafAfter())) {
      deafInARow++;
      state = new LinkState(true, state.connects(), state.deafRestarts() + 1, Optional.of("deaf"));
      drop("connected, but receiving nothing", Duration.ZERO);
      return;
    }
    if (putOff.isPresent() && over(now, putOff.get(), PUT_OFF_PAUSE)) {
      drop("asking the broker again for messages that were postponed", Duration.ZERO);
      return;
    }
    if (over(now, lastPing, settings.times().pingEvery())) {
      announce();
      ping(current, now);
    }
    flush(current);
  }

  private void ping(LinkSession current, Duration now) {
    lastPing = now;
    String body = settings.clientId() + " " + instance;
    current.ping(PING, body.getBytes(StandardCharsets.UTF_8));
  }

  private void flush(LinkSession current) {
    for (var next = outgoing.next(); next.isPresent(); next = outgoing.next()) {
      if (!current.publish(next.get())) {
        outgoing.failed(next.get());
        return;
      }
    }
  }

  private void pinged(String body) {
    if (body.endsWith(" " + instance)) {
      lastHeard = transport.uptime();
      deafInARow = 0;
      if (clean && settings.lasting()) {
        drop("receiving again; returning to the stored session", Duration.ZERO);
      }
    } else if (state.trouble().isEmpty()) {
      String words =
          "another dashboard is connected to this broker ("
              + body
              + "); both answer the devices: stop one of them";
      Logger.error("Trouble: {}", words);
      state = new LinkState(true, state.connects(), state.deafRestarts(), Optional.of(words));
    }
  }

  /**
   * What the client library cannot read comes again with a lasting session, so after the second
   * time in a row that session is given up with what waits in it, as with a deaf one.
   */
  private void unreadable(Throwable cause) {
    boolean poison =
        Stream.<Throwable>iterate(cause, Objects::nonNull, Throwable::getCause)
            .limit(10)
            .anyMatch(CheckedPackets.Unreadable.class::isInstance);
    if (poison && phase == Phase.CONNECTED) {
      deafInARow++;
    }
  }

  /** Ends the session and plans the next attempt. */
  private void drop(String reason, Duration delay) {
    Duration now = transport.uptime();
    Duration wait = delay;
    String words = reason;
    if (phase == Phase.CONNECTING) {
      shortLived = 0;
    } else if (phase == Phase.CONNECTED) {
      shortLived = over(now, phaseSince, SHORT_LIVED) ? 0 : shortLived + 1;
      if (shortLived >= FIGHT_AFTER) {
        words =
            "another client keeps taking over the connection ("
                + reason
                + "): is a second dashboard running from a copy of this data folder?";
        wait = settings.times().lastRetry().multipliedBy(2);
      }
    }
    if (!state.trouble().equals(Optional.of(words))) {
      Logger.warn("Not connected to the broker: {}", words);
    }
    boolean was = state.connected();
    state = new LinkState(false, state.connects(), state.deafRestarts(), Optional.of(words));
    phase = Phase.WAITING;
    nextAttempt = now.plus(wait);
    LinkSession old = session;
    session = null;
    outgoing.connectionGone();
    if (old != null) {
      disposing = true;
      old.dispose(false, () -> post(() -> disposing = false));
    }
    if (was) {
      listener.disconnected();
    }
  }

  private Duration retryDelay() {
    Duration delay = settings.times().firstRetry().multipliedBy(1L << Math.min(failures, 10));
    failures++;
    return delay.compareTo(settings.times().lastRetry()) > 0 ? settings.times().lastRetry() : delay;
  }

  private String words(Throwable cause) {
    if (cause instanceof MqttException mqtt
        && mqtt.getReasonCode() == MqttException.REASON_CODE_SERVER_CONNECT_ERROR) {
      return "no answer at " + settings.serverUri() + " (" + mqtt.getCause() + ")";
    }
    Optional<String> trouble =
        phase == Phase.CONNECTING ? settings.trouble().words(cause) : Optional.empty();
    if (trouble.isPresent()) {
      return settings.serverUri() + ": " + trouble.get();
    }
    if (cause instanceof MqttException mqtt) {
      return switch (mqtt.getReasonCode()) {
        case MqttException.REASON_CODE_FAILED_AUTHENTICATION,
            MqttException.REASON_CODE_NOT_AUTHORIZED ->
            "the broker at "
                + settings.serverUri()
                + " refuses this user: check broker.user and broker.password-file";
        default -> mqtt.getMessage() + (mqtt.getCause() == null ? "" : ": " + mqtt.getCause());
      };
    }
    return cause instanceof IOException
        ? String.valueOf(cause.getMessage())
        : String.valueOf(cause);
  }

  /** Brings the session's events to the link's own turn, unless the session is an old one. */
  private final class Events implements LinkSession.Events {
    @Override
    public void connected(LinkSession from) {
      listener.connected();
      post(
          () -> {
            if (from == session) {
              up(from);
            }
          });
    }

    @Override
    public void failed(LinkSession from, Throwable cause) {
      post(
          () -> {
            if (from == session) {
              unreadable(cause);
              drop(words(cause), retryDelay());
            }
          });
    }

    @Override
    public void published(OutgoingQueue.Message message, boolean delivered) {
      if (delivered) {
        outgoing.done(message);
      } else {
        outgoing.failed(message);
      }
      post(() -> {});
    }

    @Override
    public boolean arrived(
        LinkSession from, String topic, byte[] body, boolean retained, Runnable acknowledge) {
      if (topic.equals(PING)) {
        String words = new String(body, StandardCharsets.UTF_8);
        post(
            () -> {
              if (from == session) {
                pinged(words.length() > 200 ? words.substring(0, 200) : words);
              }
            });
        return true;
      }
      boolean taken = listener.arrived(topic, body, retained, acknowledge);
      if (!taken) {
        post(() -> putOff = putOff.or(() -> Optional.of(transport.uptime())));
      }
      return taken;
    }
  }
}
