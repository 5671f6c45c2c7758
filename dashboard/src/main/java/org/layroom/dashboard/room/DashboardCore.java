package org.layroom.dashboard.room;

import java.net.URI;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.layroom.dashboard.access.device.BrokerClient;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.broker.ArtemisBroker;
import org.layroom.dashboard.broker.Broker;
import org.layroom.dashboard.ingest.CurrentStore;
import org.layroom.dashboard.ingest.Inbound;
import org.layroom.dashboard.ingest.Ingest;
import org.layroom.dashboard.ingest.IngestCounts;
import org.layroom.dashboard.ingest.ReadingListener;
import org.layroom.dashboard.ingest.RoomCap;
import org.layroom.dashboard.mqtt.LinkListener;
import org.layroom.dashboard.mqtt.LinkSettings;
import org.layroom.dashboard.mqtt.LinkState;
import org.layroom.dashboard.mqtt.MqttLink;
import org.layroom.dashboard.store.EventLog;
import org.layroom.dashboard.store.History;
import org.layroom.dashboard.store.OutboxMark;
import org.layroom.dashboard.store.Store;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.dashboard.store.salvage.StoreFolder;
import org.layroom.device.encryption.TrustedAuthority;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;
import org.tinylog.Logger;

/**
 * The dashboard without its face: store, broker (unless an outside one is used), link, ingest and
 * live rooms, started and stopped in order. Safe for any number of threads.
 */
public final class DashboardCore implements AutoCloseable {
  private static final Duration GATHER_CHANGES = Duration.ofMillis(250);
  private static final Duration LOOK_AFTER_BROKER = Duration.ofSeconds(2);

  private final Pace pace;
  private final Store store;
  private final RoomCap cap = RoomCap.ofThisProcess();
  private final int leftOut;
  private final DeviceLogins logins;
  private final Optional<Broker> broker;
  private final Ingest ingest;
  private final Store current;
  private final MqttLink link;
  private final URI brokerUri;
  private final Map<RoomName, LiveRoom> rooms = new ConcurrentHashMap<>();
  private final Set<RoomName> changed = ConcurrentHashMap.newKeySet();
  private final List<RoomListener> listeners = new CopyOnWriteArrayList<>();
  private final List<Pace.Scheduled> tasks = new CopyOnWriteArrayList<>();
  private volatile Optional<Duration> linkedAt = Optional.empty();

  private DashboardCore(CoreSettings settings, Pace pace, Pace transport, Store store) {
    this.pace = pace;
    this.store = store;
    this.logins = DeviceLogins.of(settings.data(), transport::now);
    FormerFolders.remove(settings.data());
    this.leftOut = restore();
    this.broker =
        settings.broker().isPresent()
            ? Optional.empty()
            : Optional.of(
                new ArtemisBroker(
                    settings.data().resolve("broker"),
                    settings.embeddedAddress(),
                    settings.embeddedPort(),
                    settings.encryption(),
                    logins));
    broker.ifPresent(Broker::start);
    try {
      this.brokerUri = broker.map(Broker::uri).or(settings::broker).orElseThrow();
      this.ingest = new Ingest(store, cap, transport, new FromIngest());
      this.current = new CurrentStore(store, ingest);
      this.link = new MqttLink(linkSettings(settings), transport, new FromLink());
    } catch (RuntimeException | Error e) {
      broker.ifPresent(Broker::close);
      throw e;
    }
    ingest.start();
    link.start();
    broker.ifPresent(own -> logins.onChange(this::forgetWordsOf));
    tasks.add(transport.every(GATHER_CHANGES, this::tellChanges));
    broker.ifPresent(one -> tasks.add(transport.every(LOOK_AFTER_BROKER, one::lookAfter)));
  }

  /**
   * Opens the store, starts the broker inside unless an outside one is named, and begins to
   * connect. Returns without waiting for the connection.
   *
   * @param pace the room's time: real, scaled or stepped
   * @param transport real time, for connection, retries and gathering of changes; both paces stay
   *     the caller's to close
   * @throws org.layroom.dashboard.store.StoreFailure when the data folder cannot be used
   * @throws org.layroom.dashboard.broker.BrokerFailure when the broker inside cannot start
   */
  public static DashboardCore start(CoreSettings settings, Pace pace, Pace transport) {
    Store store = StoreFolder.open(settings.data());
    try {
      return new DashboardCore(settings, pace, transport, store);
    } catch (RuntimeException | Error e) {
      store.close();
      throw e;
    }
  }

  private LinkSettings linkSettings(CoreSettings settings) {
    String name = EventLog.CLIENT_ID;
    String clientId =
        store
            .events()
            .setting(name)
            .orElseGet(
                () -> {
                  String made = "layroom-" + UUID.randomUUID().toString().substring(0, 13);
                  store.events().set(name, made);
                  return made;
                });
    return new LinkSettings(
        brokerUri,
        clientId,
        broker.isEmpty(),
        broker.isPresent() ? Optional.of(BrokerClient.Dashboard.USER) : settings.user(),
        broker.isPresent() ? Optional.of(logins.ownPasswordFile()) : settings.passwordFile(),
        new TrustedAuthority(settings.caFile()),
        settings.linkTimes());
  }

  /** Says how many rooms of the store are left out, as there is no memory for them. */
  private int restore() {
    List<RoomName> served = cap.served(store.sources());
    for (RoomName room : served) {
      LiveRoom live = live(room);
      live.restore(store.sources().latest(room), store.sources().devices(room));
      store.sources().chosen(room).forEach(live::choose);
      Instant now = pace.now();
      List<History.Value> raw = new ArrayList<>();
      store
          .history()
          .values(
              room,
              Series.VOC_RAW,
              now.minus(LiveRoom.VOC_WINDOW),
              now,
              (time, value) -> raw.add(new History.Value(time, value)))
          .ifPresent(device -> live.restoreVocRaw(device, raw));
    }
    return store.sources().rooms().size() - served.size();
  }

  /** Rooms of the store that this dashboard's memory does not hold, those heard longest ago. */
  public int leftOut() {
    return leftOut;
  }

  /** How many rooms there may be. */
  public int mostRooms() {
    return cap.most();
  }

  /** The store, for queries and events; what was accepted is in every answer. */
  public Store store() {
    return current;
  }

  /** Asks for a commit of what was accepted, and does not wait for it. */
  public void commitSoon() {
    ingest.commitSoon();
  }

  /**
   * Where devices on this machine connect: the broker inside with its real port, or the outside.
   */
  public URI brokerUri() {
    return brokerUri;
  }

  /** The broker inside; empty when an outside one is used. */
  public Optional<Broker> broker() {
    return broker;
  }

  /** The devices that have a password here. */
  public DeviceLogins logins() {
    return logins;
  }

  public LinkState link() {
    return link.state();
  }

  public IngestCounts counts() {
    return ingest.counts();
  }

  /** Whether the store took nothing at the last try. */
  public boolean storeFailing() {
    return ingest.isFailing();
  }

  /** How many messages wait for their commit. */
  public int waitingForCommit() {
    return ingest.waiting();
  }

  /** All rooms ever heard of, by name. */
  public List<RoomName> rooms() {
    return rooms.keySet().stream().sorted((a, b) -> a.value().compareTo(b.value())).toList();
  }

  /** What is known of a room now; a room never heard of is empty, not an error. */
  public RoomSnapshot snapshot(RoomName room) {
    LiveRoom known = rooms.get(room);
    return (known == null ? new LiveRoom(room, pace) : known).snapshot(link.state().connected());
  }

  /** Lets one device speak for a series, from now on and in all history. */
  public void setSource(RoomName room, String series, DeviceName device) {
    store.sources().setSource(room, series, device);
    live(room).choose(series, device);
    changed.add(room);
  }

  /** Publishes with QoS 1, now or when there is a connection; see {@link MqttLink#publish}. */
  public void publish(String topic, byte[] body, boolean retained) {
    link.publish(topic, body, retained);
  }

  public void addListener(RoomListener listener) {
    listeners.add(listener);
  }

  public void removeListener(RoomListener listener) {
    listeners.remove(listener);
  }

  /** Disconnects, commits what is under way, stops the broker and closes the store, in order. */
  @Override
  public void close() {
    tasks.forEach(Pace.Scheduled::cancel);
    link.close();
    ingest.close();
    broker.ifPresent(Broker::close);
    store.close();
  }

  private LiveRoom live(RoomName room) {
    return rooms.computeIfAbsent(room, name -> new LiveRoom(name, pace));
  }

  private void tellChanges() {
    for (RoomName room : List.copyOf(changed)) {
      changed.remove(room);
      tell(listener -> listener.changed(room));
    }
  }

  private void tell(Consumer<RoomListener> call) {
    for (RoomListener listener : listeners) {
      try {
        call.accept(listener);
      } catch (RuntimeException e) {
        Logger.error(e, "A room listener failed");
      }
    }
  }

  /** What a device whose login was taken away left retained is nobody's word any more. */
  private void forgetWordsOf(BrokerClient client) {
    if (client instanceof BrokerClient.Device device
        && !logins.paired().contains(device.channel())) {
      Channel channel = device.channel();
      link.publish(channel.topic(Topic.ALARM), new byte[0], true);
      link.publish(channel.topic(Topic.STATUS), new byte[0], true);
    }
  }

  private void publishMark(OutboxMark mark) {
    link.publish(mark.channel().topic(Topic.STORED), mark.mark().write(), true);
  }

  private final class FromIngest implements ReadingListener {
    @Override
    public void accepted(StoreEntry.Sample sample, boolean backlog) {
      live(sample.channel().room()).take(sample);
      changed.add(sample.channel().room());
      tell(listener -> listener.accepted(sample, backlog));
    }

    @Override
    public void status(StoreEntry.Status status) {
      live(status.channel().room()).take(status);
      changed.add(status.channel().room());
    }

    @Override
    public void marks(List<OutboxMark> marks) {
      marks.forEach(DashboardCore.this::publishMark);
    }

    @Override
    public void other(Channel channel, Topic kind, byte[] body) {
      tell(listener -> listener.said(channel, kind, body));
    }
  }

  private final class FromLink implements LinkListener {
    @Override
    public void connected() {
      linkedAt = Optional.of(pace.uptime());
      store.marks().forEach(DashboardCore.this::publishMark);
      changed.addAll(rooms.keySet());
    }

    @Override
    public void disconnected() {
      linkedAt = Optional.empty();
      changed.addAll(rooms.keySet());
    }

    @Override
    public boolean arrived(String topic, byte[] body, boolean retained, Runnable acknowledge) {
      if (retained && ingest.refusesRetained(topic)) {
        acknowledge.run();
        return true;
      }
      Instant received = pace.now();
      Optional<Instant> since =
          pace.wallClockSet()
              ? linkedAt.map(at -> received.minus(pace.uptime().minus(at)))
              : Optional.empty();
      return ingest.accept(new Inbound(topic, body, received, since, acknowledge));
    }
  }
}
