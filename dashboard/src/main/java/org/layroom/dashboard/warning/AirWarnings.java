package org.layroom.dashboard.warning;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
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
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.fumes.AirCall;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.AirWarning;
import org.layroom.predictor.fumes.CleanAirReading;
import org.layroom.predictor.fumes.WatchSettings;
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

  /** Raised here and at the device within this time it is one and the same rise. */
  private static final Duration SAME_RISE = Duration.ofMinutes(10);

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
  private final Map<RoomName, AirSettings> settings = new HashMap<>();
  private final Map<RoomName, Optional<AirJob>> jobs = new HashMap<>();
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
      known = new DeviceWatch(channel, store, rules(channel), levels, watchTime());
      watches.put(channel, known);
      DeviceWatch fresh = known;
      fresh.watch().warning().ifPresent(one -> log.raised(channel.room(), open(fresh, one)));
      tellAgain(known);
    }
    return known;
  }

  private WatchRules rules(Channel channel) {
    AirSettings decided = settingsOf(channel.room());
    boolean speaks =
        Speakers.speaker(core.snapshot(channel.room()), decided.mode())
            .filter(channel.device()::equals)
            .isPresent();
    return new WatchRules(
        decided, !speaks || decided.houseSide().contains(channel.device()), USUAL_SILENCE);
  }

  @Override
  public synchronized void stored(StoreEntry.Sample sample, boolean backlog) {
    if (!AirReadings.measuresVapor(sample)) {
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
    AirReadings.ticks(sample, time).ifPresent(ticks -> procedures.plus(sample.channel(), ticks));
    changed(watch, watch.take(sample, rules(sample.channel()), time));
  }

  @Override
  public synchronized void said(Channel channel, Topic kind, byte[] body) {
    if (kind != Topic.ALARM) {
      return;
    }
    try {
      AlarmState said = AlarmState.read(body);
      DeviceWatch watch = watch(channel);
      watch.alarm(said);
      desk.said(channel, said);
      desk.seenBefore(watch);
      takeOver(watch, said, false);
      settleDeviceWarning(watch);
      tell(channel.room());
    } catch (MalformedMessage e) {
      Logger.warn("The alarm of {} cannot be read: {}", channel.baseName(), e.getMessage());
    }
  }

  /**
   * What somebody has seen of the device's alarm counts upstairs too, for the same call: when it
   * was seen while this one stood, or when both were raised by the same rise.
   */
  private void takeOver(DeviceWatch watch, AlarmState said, boolean sameRise) {
    Optional<AirWarning> standing =
        watch
            .watch()
            .warning()
            .filter(one -> one.acknowledged().isEmpty())
            .filter(one -> one.call() == DeviceDesk.call(said));
    Optional<Acknowledgment> seen = said.acknowledged().or(() -> desk.sent(watch.channel(), said));
    if (standing.isPresent()
        && seen.isPresent()
        && (sameRise || !clock.of(seen.get().when()).isBefore(standing.get().since()))) {
      String who = seen.get().who();
      see(watch, standing.get(), "device/" + said.id() + "/" + standing.get().id(), who);
    }
  }

  private void see(DeviceWatch watch, AirWarning standing, String saidAs, String who) {
    AirWarning.Seen seen = new AirWarning.Seen(who, pace.now());
    if (log.seen(watch.channel().room(), id(watch, standing), saidAs, seen)) {
      changed(
          watch, watch.plus(new AirEvent.Acknowledged(watch.watch().now(), standing.id(), who)));
    }
  }

  private void changed(DeviceWatch watch, DeviceWatch.Change change) {
    RoomName room = watch.channel().room();
    change.ended().ifPresent(ended -> log.ended(room, id(watch, ended), pace.now()));
    change.raised().ifPresent(raised -> log.raised(room, open(watch, raised)));
    change
        .raised()
        .filter(raised -> isNew(raised, change))
        .ifPresent(raised -> joined(watch, raised));
    settleDeviceWarning(watch);
    if (change.toKeep()) {
      tell(room);
    }
  }

  /** Raised anew because it got worse it must be seen anew. */
  private static boolean isNew(AirWarning raised, DeviceWatch.Change change) {
    return change.ended().filter(ended -> ended.call() == raised.call()).isEmpty();
  }

  /** The device called out first, and somebody has seen that already. */
  private void joined(DeviceWatch watch, AirWarning raised) {
    watch
        .alarm()
        .filter(
            said ->
                said.since()
                    .filter(
                        since ->
                            Duration.between(clock.of(since), raised.since())
                                    .abs()
                                    .compareTo(SAME_RISE)
                                <= 0)
                    .isPresent())
        .ifPresent(said -> takeOver(watch, said, true));
  }

  private void settleDeviceWarning(DeviceWatch watch) {
    desk.settle(watch, full(watch), online(watch.channel()), pace.now());
  }

  private boolean online(Channel channel) {
    return core.snapshot(channel.room()).devices().stream()
        .filter(device -> device.channel().equals(channel))
        .anyMatch(device -> device.said().filter(said -> said.status().online()).isPresent());
  }

  private static boolean full(DeviceWatch watch) {
    return watch.watch().settings().place() == WatchSettings.Place.HOUSE_SIDE;
  }

  private static String id(DeviceWatch watch, AirWarning warning) {
    return watch.channel().device() + "-" + warning.id();
  }

  private OpenWarning open(DeviceWatch watch, AirWarning warning) {
    return new OpenWarning(
        id(watch, warning),
        watch.channel().device(),
        OpenWarning.Source.DASHBOARD,
        full(watch),
        warning.call(),
        clock.wall(warning.since()),
        warning.why(),
        warning.whatToDo(),
        warning.endsWhen(),
        warning
            .acknowledged()
            .map(seen -> new AirWarning.Seen(seen.who(), clock.wall(seen.when()))));
  }

  private synchronized void tick() {
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      changed(watch, watch.tick(rules(watch.channel()), watchTime()));
    }
    for (RoomName room : List.copyOf(jobs.keySet())) {
      jobOf(room).filter(job -> !pace.now().isBefore(job.until())).ifPresent(job -> jobEnded(room));
    }
    long now = core.link().connects();
    if (now != connects) {
      connects = now;
      watches.values().forEach(this::tellAgain);
    }
  }

  private synchronized void tellAll() {
    core.rooms().forEach(this::tell);
  }

  private void tell(RoomName room) {
    String body = WarningJson.told(room, air(room), pace.now().plus(STANDS)).toString();
    core.publish(Topic.warnings(room), body.getBytes(StandardCharsets.UTF_8), true);
  }

  /** Tells a device again what was decided last. */
  private void tellAgain(DeviceWatch watch) {
    tellDevice(watch, new DeviceDesk.Decided(pace.now(), "", false));
  }

  private void tellDevice(DeviceWatch watch, DeviceDesk.Decided when) {
    RoomName room = watch.channel().room();
    desk.decide(watch, settingsOf(room), full(watch), jobOf(room), when);
  }

  /** Tells the devices of a room what was decided now. */
  private void tellDevices(RoomName room, String by) {
    watches.values().stream()
        .filter(watch -> watch.channel().room().equals(room))
        .forEach(watch -> tellDevice(watch, new DeviceDesk.Decided(pace.now(), by, true)));
    tell(room);
  }

  private AirSettings settingsOf(RoomName room) {
    return settings.computeIfAbsent(room, store::settings);
  }

  private Optional<AirJob> jobOf(RoomName room) {
    return jobs.computeIfAbsent(room, store::job);
  }

  /** What was decided about the air of a room. */
  public synchronized AirSettings settings(RoomName room) {
    return settingsOf(room);
  }

  /**
   * Decides something about the air of a room; its devices are told.
   *
   * @param who decides, 1 to 60 characters
   */
  public synchronized AirSettings decide(
      RoomName room, String who, Function<AirSettings, AirSettings> change) {
    AirSettings next = change.apply(settingsOf(room)).decided(pace.now(), Who.checked(who));
    settings.put(room, next);
    store.keep(room, next);
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      if (watch.channel().room().equals(room)) {
        changed(watch, watch.changed(rules(watch.channel()), watchTime()));
      }
    }
    tellDevices(room, next.by());
    return next;
  }

  /**
   * A job begins, or goes on longer: until it ends the warnings in the layup room are quieter where
   * fan and respirator are on. The devices are told.
   */
  public synchronized void jobStarted(RoomName room, AirJob job) {
    jobs.put(room, Optional.of(job));
    store.keep(room, Optional.of(job));
    forWatches(
        room,
        now ->
            new AirEvent.JobStarted(
                now,
                later(clock.of(job.until()), now),
                job.who(),
                job.fanOn(),
                job.respiratorOn()));
    tellDevices(room, job.who());
  }

  private static Instant later(Instant until, Instant now) {
    return until.isAfter(now) ? until : now.plusMillis(1);
  }

  /** The job is over: the full warnings hold again, and the devices are told. */
  public synchronized void jobEnded(RoomName room) {
    if (jobOf(room).isEmpty()) {
      return;
    }
    jobs.put(room, Optional.empty());
    store.keep(room, Optional.empty());
    forWatches(room, AirEvent.JobEnded::new);
    tellDevices(room, "");
  }

  private void forWatches(RoomName room, Function<Instant, AirEvent> event) {
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      if (watch.channel().room().equals(room)) {
        changed(watch, watch.plus(event.apply(watch.watch().now())));
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
    String name = Who.checked(who);
    if (log.said(room, saidAs).isPresent()) {
      return Acknowledging.SAID_BEFORE;
    }
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      Optional<AirWarning> standing =
          watch.watch().warning().filter(one -> id(watch, one).equals(warningId));
      if (watch.channel().room().equals(room) && standing.isPresent()) {
        see(watch, standing.get(), saidAs, name);
        desk.acknowledge(watch, standing.get().call(), name, pace.now());
        return Acknowledging.KEPT;
      }
      Optional<AlarmState> own =
          watch.alarm().filter(said -> DeviceDesk.id(watch, said).equals(warningId));
      if (watch.channel().room().equals(room) && own.isPresent()) {
        log.seen(room, warningId, saidAs, new AirWarning.Seen(name, pace.now()));
        desk.acknowledge(watch, DeviceDesk.call(own.get()), name, pace.now());
        watch.watch().warning().ifPresent(here -> joined(watch, here));
        settleDeviceWarning(watch);
        tell(room);
        return Acknowledging.KEPT;
      }
    }
    return Acknowledging.NOT_OPEN;
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
    tellDevice(watch(channel), new DeviceDesk.Decided(pace.now(), who, true));
  }

  /** What is known of a room's air now. */
  public synchronized RoomAir air(RoomName room) {
    List<OpenWarning> warnings = new ArrayList<>();
    List<RoomAir.DeviceAir> devices = new ArrayList<>();
    for (DeviceWatch watch : watches.values()) {
      if (watch.channel().room().equals(room)) {
        watch.watch().warning().ifPresent(one -> warnings.add(open(watch, one)));
        desk.shown(watch.channel()).ifPresent(warnings::add);
        devices.add(
            new RoomAir.DeviceAir(
                watch.channel().device(),
                watch.watch().call(),
                watch.watch().words(),
                full(watch),
                watch.watch().cleanAirAsked(),
                watch.cleanAir(),
                watch.alarm(),
                desk.agreement(watch)));
      }
    }
    warnings.sort(
        Comparator.comparing(OpenWarning::call).reversed().thenComparing(OpenWarning::id));
    devices.sort(Comparator.comparing(device -> device.device().value()));
    AirCall call =
        devices.isEmpty()
            ? AirCall.UNKNOWN
            : warnings.stream().map(OpenWarning::call).findFirst().orElse(AirCall.OK);
    return new RoomAir(pace.now(), settingsOf(room), jobOf(room), call, warnings, devices);
  }

  /** The newest entries of the warnings' log, the newest first, at most so many. */
  public List<JsonNode> log(RoomName room, int most) {
    return log.newest(room, most);
  }

  /** The state of a room's air for the mix check; what the device itself says counts if worse. */
  public synchronized AirState state(RoomSnapshot room) {
    Optional<DeviceName> speaker = Speakers.speaker(room, settingsOf(room.room()).mode());
    if (speaker.isEmpty()) {
      return AirState.notMeasured();
    }
    DeviceWatch watch = watch(new Channel(room.room(), speaker.get()));
    Optional<OpenWarning> own = desk.shown(watch.channel());
    if (own.isPresent()) {
      String why = String.join(" ", own.get().why()).strip();
      return AirState.of(
          AirState.Kind.valueOf(own.get().call().name()),
          "the device itself says: "
              + (why.endsWith(".") ? why.substring(0, why.length() - 1) : why));
    }
    return AirState.of(watch.watch());
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
          changed(watch, watch.cleanAir(one.reading(), rules(one.channel()), watchTime()));
          tellDevices(room, name);
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
