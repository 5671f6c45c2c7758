package org.layroom.device.publishing;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.layroom.device.outbox.Appended;
import org.layroom.device.outbox.Outbox;
import org.layroom.device.outbox.SequenceRange;
import org.layroom.device.outbox.StoredSample;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.RealPace;
import org.layroom.device.sampling.Sampled;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.DeviceSettings;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.ReadingsBody;
import org.layroom.device.telemetry.RoomVerdict;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.StoredMark;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * Sends samples to the broker, newest first and then the backlog oldest first, until the
 * dashboard's mark says that they are stored. One thread of real time does all of it; the MQTT
 * client's callbacks only hand over to that thread.
 */
public final class Publisher implements AutoCloseable {
  /** Messages that the broker has not yet taken. */
  static final int MOST_IN_FLIGHT = 50;

  /** A connection on which nothing is taken for this long is deaf, whatever it says of itself. */
  private static final Duration DEAF = Duration.ofSeconds(60);

  private static final Duration LOOK_AFTER = Duration.ofSeconds(2);
  private static final Duration FIRST_RETRY = Duration.ofMillis(250);
  private static final Duration LAST_RETRY = Duration.ofSeconds(30);
  private static final int MOST_FRESH = 200;

  private final BrokerAddress address;
  private final Channel channel;
  private final Outbox outbox;
  private final Pace pace;
  private final Envelope envelope;
  private final Backlog backlog;
  private final RealPace transport = new RealPace();
  private final Gate gate = new Gate();

  private final Deque<Fresh> fresh = new ArrayDeque<>();
  private final Deque<SequenceRange> lost = new ArrayDeque<>();
  private Optional<BrokerLink> link = Optional.empty();
  private boolean connected;
  private boolean closing;
  private int inFlight;
  private Duration retry = FIRST_RETRY;
  private String lastReason = "";
  private final Patience patience;
  private volatile boolean refusalSaid;
  private Duration lastTaken = Duration.ZERO;
  private Duration onlineSince = Duration.ZERO;
  private List<PartFault> faults = List.of();
  private List<SensorOffset> offsets = List.of();
  private boolean statusDue;
  private Optional<AlarmState> alarm = Optional.empty();
  private boolean alarmDue;
  private Consumer<Acknowledgment> acknowledgments = seen -> {};
  private Consumer<DeviceSettings> settings = decided -> {};
  private Consumer<RoomVerdict> verdicts = verdict -> {};
  private boolean sinceKnown;

  /** A sample that has just been measured. */
  private record Fresh(Appended appended, Sampled sampled) {}

  /**
   * A publisher that is not yet connecting.
   *
   * @param pace whose clocks date the samples; transport timers run on real time all the same
   */
  public Publisher(BrokerAddress address, Channel channel, Outbox outbox, Pace pace) {
    this(address, channel, outbox, pace, new Patience());
  }

  Publisher(BrokerAddress address, Channel channel, Outbox outbox, Pace pace, Patience patience) {
    this.patience = patience;
    this.address = address;
    this.channel = channel;
    this.outbox = outbox;
    this.pace = pace;
    this.envelope = new Envelope(outbox);
    this.backlog = new Backlog(outbox);
  }

  /** Connects, and again whenever the connection is lost, until closed. */
  public void start() {
    post(this::connect);
    transport.every(LOOK_AFTER, this::lookAfter);
  }

  /** Takes over a sample that was just measured and what the outbox made of it. */
  public void offer(Appended appended, Sampled sampled) {
    gate.moreWaiting(1);
    post(
        () -> {
          take(new Fresh(appended, sampled));
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
          boolean clockNews = !sinceKnown && pace.wallClockSet();
          if (!now.equals(faults) || !corrected.equals(offsets) || clockNews) {
            faults = now;
            offsets = corrected;
            statusDue = true;
            pump();
          }
        });
  }

  /** Tells the broker what the air calls for, retained. */
  public void alarm(AlarmState now) {
    post(
        () -> {
          alarm = Optional.of(now);
          alarmDue = true;
          pump();
        });
  }

  /** Hands on, on the publisher's thread, what somebody upstairs has acknowledged. */
  public void onAcknowledged(Consumer<Acknowledgment> listener) {
    post(() -> acknowledgments = listener);
  }

  /** Hands on, on the publisher's thread, what was decided upstairs; may come again and again. */
  public void onSettings(Consumer<DeviceSettings> listener) {
    post(() -> settings = listener);
  }

  /**
   * Hands on, on the publisher's thread, the room's mix check as the dashboard says it; of one that
   * the broker had kept, and which may be old, only the can's temperatures.
   */
  public void onVerdict(Consumer<RoomVerdict> listener) {
    post(() -> verdicts = listener);
  }

  /** Whether what is sent is refused somewhere on the way, as far as can be told. */
  boolean saysRefused() {
    return refusalSaid;
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
    gate.await(patience, () -> gate.waiting() < MOST_IN_FLIGHT || !gate.open());
  }

  @Override
  public void close() {
    Gate closed = new Gate();
    post(
        () -> {
          closing = true;
          link.ifPresent(BrokerLink::goodbye);
          link = Optional.empty();
          closed.opened(true);
        });
    try {
      closed.await(LAST_RETRY, closed::open);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    transport.close();
  }

  private void post(Runnable task) {
    transport.after(Duration.ZERO, task);
  }

  private void connect() {
    if (closing || link.isPresent()) {
      return;
    }
    try {
      link = Optional.of(BrokerLink.open(address, channel, new Events()));
    } catch (IOException e) {
      retryLater(String.valueOf(e.getMessage()));
    }
  }

  private void retryLater(String reason) {
    if (closing) {
      return;
    }
    if (!reason.equals(lastReason)) {
      Logger.warn("No broker at {}: {}. Samples are kept meanwhile", address.uri(), reason);
      lastReason = reason;
    }
    transport.after(retry, this::connect);
    Duration doubled = retry.multipliedBy(2);
    retry = doubled.compareTo(LAST_RETRY) > 0 ? LAST_RETRY : doubled;
  }

  private void onConnected(BrokerLink which) {
    if (!isCurrent(which) || connected) {
      return;
    }
    Logger.info("Connected to {}, {} samples waiting", address.uri(), outbox.waiting());
    connected = true;
    inFlight = 0;
    retry = FIRST_RETRY;
    lastReason = "";
    onlineSince = pace.uptime();
    lastTaken = transport.uptime();
    patience.progressed(lastTaken);
    refusalSaid = false;
    statusDue = true;
    alarmDue = alarm.isPresent();
    try {
      which.subscribe(channel.topic(Topic.STORED));
      which.subscribe(channel.topic(Topic.ACKNOWLEDGE));
      which.subscribe(channel.topic(Topic.SETTINGS));
      which.subscribe(Topic.DASHBOARD);
      which.subscribe(Topic.verdict(channel.room()));
      backlog.restart();
      newestFirst();
    } catch (IOException e) {
      onLost(which, String.valueOf(e.getMessage()));
      return;
    }
    gate.opened(true);
    pump();
  }

  private void newestFirst() throws IOException {
    lost.clear();
    lost.addAll(outbox.lost());
    if (outbox.last() > outbox.mark()) {
      for (StoredSample sample : outbox.read(outbox.last(), 1)) {
        send(envelope.of(sample, clock()));
        backlog.sentAhead(sample.sequence());
      }
    }
  }

  private void onLost(BrokerLink which, String reason) {
    if (!isCurrent(which)) {
      return;
    }
    if (connected) {
      Logger.warn("Connection to {} lost: {}", address.uri(), reason);
    }
    connected = false;
    link = Optional.empty();
    gate.opened(false);
    which.drop();
    retryLater(reason);
  }

  private boolean isCurrent(BrokerLink which) {
    return link.isPresent() && link.get() == which;
  }

  private void onTaken(BrokerLink which) {
    if (isCurrent(which)) {
      inFlight--;
      lastTaken = transport.uptime();
      pump();
    }
  }

  private void onMark(byte[] body) {
    try {
      StoredMark stored = StoredMark.read(body);
      if (stored.outbox().equals(outbox.name()) && stored.sequence() > outbox.mark()) {
        outbox.forget(stored.sequence());
        backlog.progressed();
        boolean wasRefused = patience.refused();
        patience.progressed(transport.uptime());
        gate.changed();
        if (wasRefused) {
          refusalSaid = false;
          Logger.info("What is sent is stored again");
          sendAgain();
        }
        pump();
      }
    } catch (MalformedMessage e) {
      Logger.warn("A stored mark cannot be read: {}", e.getMessage());
    }
  }

  private void onAcknowledgment(byte[] body) {
    try {
      acknowledgments.accept(Acknowledgment.read(body));
    } catch (MalformedMessage e) {
      Logger.warn("An acknowledgment cannot be read: {}", e.getMessage());
    }
  }

  private void onSettings(byte[] body) {
    try {
      settings.accept(DeviceSettings.read(body));
    } catch (MalformedMessage e) {
      Logger.warn("Settings from upstairs cannot be read: {}", e.getMessage());
    }
  }

  private void onVerdict(byte[] body, boolean kept) {
    try {
      RoomVerdict verdict = RoomVerdict.read(body);
      verdicts.accept(kept ? verdict.withoutVerdict() : verdict);
    } catch (MalformedMessage e) {
      Logger.warn("A verdict from upstairs cannot be read: {}", e.getMessage());
    }
  }

  /** A dashboard that has just come back may have missed everything sent before. */
  private void onDashboard(String state, boolean kept) {
    boolean there = state.contains("online");
    patience.dashboard(there);
    if (!kept && connected && there && outbox.mark() < outbox.last()) {
      patience.progressed(transport.uptime());
      sendAgain();
    }
  }

  private void take(Fresh sample) {
    boolean kept = sample.appended() instanceof Appended.Kept;
    if (kept && (!connected || patience.refused() || fresh.size() >= MOST_FRESH)) {
      gate.moreWaiting(-1);
      return;
    }
    if (outbox.mark() + 1 >= outbox.last()) {
      patience.waiting(transport.uptime());
    }
    fresh.add(sample);
    while (fresh.size() > MOST_FRESH) {
      fresh.remove();
      gate.moreWaiting(-1);
    }
  }

  /** Every two seconds of real time: is anybody there, and is anything stored? */
  private void lookAfter() {
    if (!connected || link.isEmpty()) {
      return;
    }
    Duration now = transport.uptime();
    if (inFlight > 0 && now.minus(lastTaken).compareTo(DEAF) > 0) {
      onLost(link.get(), "nothing was taken for " + DEAF.toSeconds() + " s");
    } else if (outbox.mark() < outbox.last() && patience.isOver(now)) {
      Duration waited = patience.over(now);
      if (patience.refused()) {
        tryOne();
      } else {
        Logger.debug("Nothing stored for {} s: sending again", waited.toSeconds());
        sendAgain();
      }
    }
  }

  /** Begins a new run above the mark. */
  private void sendAgain() {
    patience.waiting(transport.uptime());
    backlog.restart();
    lost.clear();
    lost.addAll(outbox.lost());
    pump();
  }

  /** Only the first that waits: when that is stored the mark moves, and the rest follows. */
  private void tryOne() {
    if (!refusalSaid) {
      refusalSaid = true;
      Logger.warn(
          "The broker takes readings and the dashboard is there, yet none is stored: perhaps this"
              + " device may not publish as room {} device {}, or another is meant. Pair it again"
              + " (layroom-device pair). Samples are kept meanwhile",
          channel.room(),
          channel.device());
    }
    try {
      lost.clear();
      lost.addAll(outbox.lost());
      for (StoredSample sample : outbox.read(outbox.mark() + 1, 1)) {
        send(envelope.of(sample, clock()));
      }
      pump();
    } catch (IOException e) {
      link.ifPresent(which -> onLost(which, String.valueOf(e.getMessage())));
    }
  }

  private void pump() {
    if (!connected || link.isEmpty()) {
      return;
    }
    try {
      while (inFlight < MOST_IN_FLIGHT && sendNext()) {
        gate.changed();
      }
    } catch (IOException e) {
      onLost(link.get(), String.valueOf(e.getMessage()));
    }
  }

  /** Sends what is most wanted now; false when there is nothing left. */
  private boolean sendNext() throws IOException {
    if (alarmDue && alarm.isPresent()) {
      alarmDue = false;
      send(Topic.ALARM, alarm.get().write());
      return true;
    }
    if (statusDue) {
      statusDue = false;
      send(Topic.STATUS, status().write());
      return true;
    }
    if (!fresh.isEmpty()) {
      sendFresh(fresh.remove());
      gate.moreWaiting(-1);
      return true;
    }
    if (!lost.isEmpty()) {
      SequenceRange range = lost.remove();
      send(new DeviceMessage.Lost(outbox.name(), range.first(), range.last()));
      return true;
    }
    Optional<StoredSample> next = backlog.next();
    if (next.isPresent()) {
      send(envelope.of(next.get(), clock()));
    }
    return next.isPresent();
  }

  private void sendFresh(Fresh sample) throws IOException {
    if (sample.appended() instanceof Appended.Kept kept) {
      long sequence = kept.sample().sequence();
      if (!backlog.sent(sequence)) {
        send(envelope.of(kept.sample(), clock()));
        backlog.sentAhead(sequence);
      }
    } else {
      send(envelope.unkept(sample.sampled(), clock()));
    }
  }

  private void send(DeviceMessage message) throws IOException {
    send(Topic.READINGS, ReadingsBody.write(channel, message));
  }

  private void send(Topic topic, byte[] body) throws IOException {
    if (link.isPresent()) {
      link.get().publish(topic, body);
      if (inFlight++ == 0) {
        lastTaken = transport.uptime();
      }
    }
  }

  private DeviceStatus status() {
    ClockReading clock = clock();
    sinceKnown = clock.wallClockSet();
    Optional<Instant> since =
        sinceKnown
            ? Optional.of(clock.wall().minus(clock.uptime().minus(onlineSince)))
            : Optional.empty();
    return new DeviceStatus(true, since, faults, offsets);
  }

  private ClockReading clock() {
    return ClockReading.of(pace);
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
      if (topic.equals(channel.topic(Topic.STORED))) {
        post(() -> onMark(body));
      } else if (topic.equals(channel.topic(Topic.ACKNOWLEDGE)) && !kept) {
        post(() -> onAcknowledgment(body));
      } else if (topic.equals(channel.topic(Topic.SETTINGS))) {
        post(() -> onSettings(body));
      } else if (topic.equals(Topic.DASHBOARD)) {
        post(() -> onDashboard(new String(body, StandardCharsets.UTF_8), kept));
      } else if (topic.equals(Topic.verdict(channel.room()))) {
        post(() -> onVerdict(body, kept));
      }
    }

    @Override
    public void taken(BrokerLink which) {
      post(() -> onTaken(which));
    }
  }
}
