package org.layroom.dashboard.warning;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.CleanAirReading;
import org.layroom.predictor.verdict.AirState;
import org.tinylog.Logger;

/**
 * The warnings about the air of every room: hears what is stored, steps one watch a device, keeps
 * what was raised, seen and ended, and tells it on MQTT, retained. Safe for several threads.
 */
public final class AirWarnings implements RoomListener, AutoCloseable {
  private static final Duration TICK = Duration.ofSeconds(5);
  private static final Duration TOLD_AGAIN = Duration.ofMinutes(1);
  private static final Duration USUAL_SILENCE = Duration.ofMinutes(2);

  /** What is told stands this long without being told anew. */
  static final Duration STANDS = Duration.ofMinutes(3);

  /** Readings need this long of real time from a device to here. */
  private static final Duration ON_THE_WAY = Duration.ofSeconds(2);

  private final DashboardCore core;
  private final Pace pace;
  private final Duration lag;
  private final WatchClock clock;
  private final WatchStore store;
  private final WarningLog log;
  private final DeviceDesk desk;
  private final Map<Channel, DeviceWatch> watches = new HashMap<>();
  private final RoomDecisions decisions;
  private final AirPicture picture;
  private final WarningDesk telling;
  private final CleanAirProcedures procedures;
  private final List<Pace.Scheduled> tasks;
  private long connects = -1;

  /** What became of an acknowledgment. */
  public enum Acknowledging {
    /** It is kept, and the device is told. */
    KEPT,
    /** It was kept when it was said for the first time. */
    SAID_BEFORE,
    /** No such warning stands. */
    NOT_OPEN
  }

  private AirWarnings(DashboardCore core, Pace pace, double paceFactor) {
    this.core = core;
    this.pace = pace;
    lag = Duration.ofMillis(Math.round(ON_THE_WAY.toMillis() * Math.max(1, paceFactor)));
    clock = new WatchClock(pace);
    procedures = new CleanAirProcedures(core, clock);
    store = new WatchStore(core.store());
    log = new WarningLog(core.store().events());
    desk = new DeviceDesk(core, log);
    decisions = new RoomDecisions(store);
    picture = new AirPicture(watches, decisions, desk, pace, clock);
    telling = new WarningDesk(core, pace, clock, log, desk, decisions, picture, watches);
    for (RoomName room : core.rooms()) {
      RoomSnapshot snapshot = core.snapshot(room);
      Speakers.devices(snapshot).forEach(device -> watch(new Channel(room, device)));
    }
    long tickMillis = Math.max(TICK.toMillis(), Math.round(250 * paceFactor));
    core.addListener(this);
    tasks =
        List.of(
            pace.every(Duration.ofMillis(tickMillis), this::tick),
            pace.every(TOLD_AGAIN, this::tellAll));
  }

  /**
   * Begins to watch, as it was before the last stop.
   *
   * @param pace the room's time
   * @param paceFactor how much faster than real time the room's clock runs
   */
  public static AirWarnings start(DashboardCore core, Pace pace, double paceFactor) {
    return new AirWarnings(core, pace, paceFactor);
  }

  private Instant watchTime() {
    return clock.now().minus(lag);
  }

  private DeviceWatch watch(Channel channel) {
    DeviceWatch known = watches.get(channel);
    if (known == null) {
      boolean levels =
          core.snapshot(channel.room())
              .value(Series.VOC_LEVEL)
              .filter(value -> value.device().equals(channel.device()))
              .isPresent();
      known = new DeviceWatch(channel, store, rules(channel), levels, watchTime(), clock.now());
      watches.put(channel, known);
      DeviceWatch fresh = known;
      fresh
          .watch()
          .warning()
          .ifPresent(one -> log.raised(channel.room(), picture.open(fresh, one)));
      telling.tellAgain(known);
    }
    return known;
  }

  private WatchRules rules(Channel channel) {
    AirSettings decided = decisions.settings(channel.room());
    boolean speaks =
        Speakers.speaker(core.snapshot(channel.room()), decided.mode())
            .filter(channel.device()::equals)
            .isPresent();
    return new WatchRules(
        decided, !speaks || decided.houseSide().contains(channel.device()), USUAL_SILENCE);
  }

  @Override
  public synchronized void stored(StoreEntry.Sample sample, boolean backlog) {
    if (!AirEvents.measureVapor(sample.readings())) {
      return;
    }
    DeviceWatch watch = watch(sample.channel());
    Instant time = clock.of(sample.times().corrected());
    if (backlog) {
      if (time.isAfter(watchTime().minus(WatchStore.SHORT_BACK))) {
        watch.refillDue();
      }
      return;
    }
    AirEvents.ticks(time, sample.readings())
        .ifPresent(ticks -> procedures.plus(sample.channel(), ticks));
    telling.changed(watch, watch.take(sample, rules(sample.channel()), time));
  }

  @Override
  public synchronized void said(Channel channel, Topic kind, byte[] body) {
    if (kind != Topic.ALARM) {
      return;
    }
    try {
      AlarmState said = AlarmState.read(body);
      telling.said(watch(channel), said);
    } catch (MalformedMessage e) {
      Logger.warn("The alarm of {} cannot be read: {}", channel.baseName(), e.getMessage());
    }
  }

  private synchronized void tick() {
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      telling.changed(watch, watch.tick(rules(watch.channel()), watchTime()));
    }
    for (RoomName room : decisions.rooms()) {
      decisions
          .job(room)
          .filter(job -> !pace.now().isBefore(job.until()))
          .ifPresent(job -> jobEnded(room));
    }
    long now = core.link().connects();
    if (now != connects) {
      connects = now;
      watches.values().forEach(telling::tellAgain);
    }
  }

  private synchronized void tellAll() {
    core.rooms().forEach(telling::tell);
  }

  /** What was decided about the air of a room. */
  public synchronized AirSettings settings(RoomName room) {
    return decisions.settings(room);
  }

  /**
   * Decides something about the air of a room; its devices are told.
   *
   * @param who decides, 1 to 60 characters
   */
  public synchronized AirSettings decide(
      RoomName room, String who, Function<AirSettings, AirSettings> change) {
    AirSettings next = change.apply(decisions.settings(room)).decided(pace.now(), Who.checked(who));
    decisions.keep(room, next);
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      if (watch.channel().room().equals(room)) {
        telling.changed(watch, watch.changed(rules(watch.channel()), watchTime()));
      }
    }
    telling.tellDevices(room, next.by());
    return next;
  }

  /**
   * A job begins, or goes on longer: until it ends the warnings in the layup room are quieter where
   * fan and respirator are on. The devices are told.
   */
  public synchronized void jobStarted(RoomName room, AirJob job) {
    decisions.keep(room, Optional.of(job));
    forWatches(
        room,
        now ->
            new AirEvent.JobStarted(
                now,
                later(clock.of(job.until()), now),
                job.who(),
                job.fanOn(),
                job.respiratorOn()));
    telling.tellDevices(room, job.who());
  }

  private static Instant later(Instant until, Instant now) {
    return until.isAfter(now) ? until : now.plusMillis(1);
  }

  /** The job is over: the full warnings hold again, and the devices are told. */
  public synchronized void jobEnded(RoomName room) {
    if (decisions.job(room).isEmpty()) {
      return;
    }
    decisions.keep(room, Optional.empty());
    forWatches(room, AirEvent.JobEnded::new);
    telling.tellDevices(room, "");
  }

  private void forWatches(RoomName room, Function<Instant, AirEvent> event) {
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      if (watch.channel().room().equals(room)) {
        telling.changed(watch, watch.plus(event.apply(watch.watch().now())));
      }
    }
  }

  /**
   * Somebody has seen a warning; the device is told where it sounds one that is no worse.
   *
   * @param saidAs an id made by whoever says so: saying it again changes nothing
   * @param who 1 to 60 characters
   */
  public synchronized Acknowledging acknowledge(
      RoomName room, String warningId, String saidAs, String who) {
    return telling.acknowledge(room, warningId, saidAs, who);
  }

  /** What people decided that the sensors of a device are off by. */
  public synchronized List<SensorOffset> offsets(Channel channel) {
    return desk.offsets().of(channel);
  }

  /** Decides what a sensor is corrected by; its device is told. */
  public synchronized void correct(Channel channel, SensorOffset offset) {
    String who = Who.checked(offset.who());
    desk.offsets()
        .keep(channel, new SensorOffset(offset.series(), offset.amount(), offset.taken(), who));
    telling.tellDevice(watch(channel), new DeviceDesk.Decided(pace.now(), who, true));
  }

  /** What is known of a room's air now. */
  public synchronized RoomAir air(RoomName room) {
    return picture.air(room);
  }

  /** The newest entries of the warnings' log, the newest first, at most so many. */
  public List<JsonNode> log(RoomName room, int most) {
    return log.newest(room, most);
  }

  /** The state of a room's air for the mix check; what the device itself says counts if worse. */
  public synchronized AirState state(RoomSnapshot room) {
    Optional<DeviceName> speaker = Speakers.speaker(room, decisions.settings(room.room()).mode());
    if (speaker.isEmpty()) {
      return AirState.notMeasured();
    }
    return picture.state(watch(new Channel(room.room(), speaker.get())));
  }

  /** Begins the clean-air procedure of the device that speaks for a room's air, or of another. */
  public synchronized CleanAirDesk.State beginCleanAir(
      RoomName room, Optional<DeviceName> device, CleanAirDesk.Promised promised) {
    return procedures.begin(watches, room, device, promised);
  }

  /** How far the clean-air procedure is; empty when none was begun. */
  public synchronized Optional<CleanAirDesk.State> cleanAir(
      RoomName room, Optional<DeviceName> device) {
    return procedures.state(watches, room, device);
  }

  /**
   * Takes the clean-air reading when the procedure is through; a doubtful one only when confirmed.
   * The device is told.
   *
   * @return the reading that was taken; empty when it cannot be yet
   */
  public synchronized Optional<CleanAirReading> takeCleanAir(
      RoomName room, Optional<DeviceName> device, String who, String saidAs, boolean confirmed) {
    String name = Who.checked(who);
    Optional<CleanAirProcedures.Taken> taken = procedures.take(watches, room, device, confirmed);
    taken.ifPresent(
        one -> {
          store.keep(one.channel(), one.reading(), name, saidAs);
          DeviceWatch watch = watch(one.channel());
          telling.changed(watch, watch.cleanAir(one.reading(), rules(one.channel()), watchTime()));
          telling.tellDevices(room, name);
        });
    return taken.map(CleanAirProcedures.Taken::reading);
  }

  /** Stops to watch; what stands is kept. */
  @Override
  public void close() {
    core.removeListener(this);
    tasks.forEach(Pace.Scheduled::cancel);
  }
}
