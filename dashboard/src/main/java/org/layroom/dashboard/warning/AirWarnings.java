package org.layroom.dashboard.warning;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.decision.DeviceDecisions;
import org.layroom.dashboard.decision.PersonName;
import org.layroom.dashboard.decision.RoomDecisions;
import org.layroom.dashboard.decision.SensorOffsets;
import org.layroom.dashboard.decision.SentAcknowledgments;
import org.layroom.dashboard.decision.SentDecisions;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.SensorOffset;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.verdict.AirState;
import org.tinylog.Logger;

/**
 * The warnings about the air of every room: hears what comes in, steps one watch a device, keeps
 * what was raised, seen and ended, and tells it on MQTT, retained. Safe for several threads.
 */
public final class AirWarnings implements RoomListener, AutoCloseable {
  private static final Duration TICK = Duration.ofSeconds(5);
  private static final Duration TOLD_AGAIN = Duration.ofMinutes(1);

  /** Readings need this long of real time from a device to here. */
  private static final Duration ON_THE_WAY = Duration.ofSeconds(2);

  private final DashboardCore core;
  private final Pace pace;
  private final WatchClock clock;
  private final WatchStore store;
  private final WarningLog log;
  private final RoomDecisions decisions;
  private final Watches watches;
  private final SensorOffsets offsets;
  private final DeviceDecisions devices;
  private final Acknowledgments acknowledgments;
  private final AirPicture picture;
  private final WarningSteps steps;
  private final AirDecisions decided;
  private final CleanAirProcedures procedures;
  private final BumpTests bumpTests;
  private final List<Pace.Scheduled> tasks;
  private volatile Function<RoomName, OptionalDouble> predicted = room -> OptionalDouble.empty();
  private long connects = -1;
  private boolean closed;

  private AirWarnings(DashboardCore core, Pace pace, double paceFactor) {
    this.core = core;
    this.pace = pace;
    Duration lag = Duration.ofMillis(Math.round(ON_THE_WAY.toMillis() * Math.max(1, paceFactor)));
    clock = new WatchClock(pace);
    store = new WatchStore(core.store());
    log = new WarningLog(core.store().events());
    decisions = new RoomDecisions(core.store().events());
    watches = new Watches(core, decisions, store, clock, lag);
    offsets = new SensorOffsets(core.store().events());
    SentDecisions sent = new SentDecisions(core);
    devices = new DeviceDecisions(decisions, offsets, sent);
    SentAcknowledgments seen = new SentAcknowledgments(core);
    acknowledgments = new Acknowledgments(log, seen, clock);
    DeviceWarnings own = new DeviceWarnings(core, log, seen);
    bumpTests = new BumpTests(core, watches, clock);
    picture = new AirPicture(watches, decisions, sent, own, bumpTests, clock);
    WarningPublisher publisher = new WarningPublisher(core, picture);
    steps = new WarningSteps(log, acknowledgments, own, publisher, clock);
    decided = new AirDecisions(decisions, devices, watches, steps, clock);
    procedures = new CleanAirProcedures(core, watches, clock);
    for (RoomName room : core.rooms()) {
      RoomSnapshot snapshot = core.snapshot(room);
      VaporSources.devices(snapshot).forEach(device -> watch(new Channel(room, device)));
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

  private DeviceWatch watch(Channel channel) {
    return watches.of(channel).orElseGet(() -> begin(channel));
  }

  private DeviceWatch begin(Channel channel) {
    DeviceWatch fresh = watches.begin(channel);
    steps.begun(fresh);
    bumpTests.doubt(fresh).ifPresent(why -> changed(fresh, fresh.doubted(Optional.of(why))));
    devices.tellAgain(fresh.device(), pace.now());
    return fresh;
  }

  @Override
  public synchronized void accepted(StoreEntry.Sample sample, boolean backlog) {
    if (!AirEvents.measureVapor(sample.readings())) {
      return;
    }
    DeviceWatch watch = watch(sample.channel());
    Instant time = clock.of(sample.times().corrected());
    bumpTests.of(sample.channel()).sampled(time);
    if (backlog) {
      if (time.isAfter(watches.time().minus(WatchStore.SHORT_BACK))) {
        watch.refillDue();
      }
      return;
    }
    AirEvents.ticks(time, sample.readings())
        .ifPresent(ticks -> procedures.plus(sample.channel(), ticks));
    DeviceWatch.Change change = watch.take(sample, watches.rules(sample.channel()), time);
    changed(watch, change);
    proven(watch);
    if (change.toKeep()) {
      core.commitSoon();
    }
  }

  /** What the newest step says of the sensor itself; its device is told when it changes. */
  private void proven(DeviceWatch watch) {
    bumpTests.of(watch.channel()).stepped(watch.watch());
    Optional<String> doubt = bumpTests.doubt(watch);
    if (!doubt.equals(watch.watch().settings().doubt())) {
      changed(watch, watch.doubted(doubt));
      devices.tell(watch.device(), pace.now(), "");
    }
  }

  @Override
  public synchronized void said(Channel channel, Topic kind, byte[] body) {
    if (kind != Topic.ALARM) {
      return;
    }
    try {
      AlarmState said = DeviceWords.cut(AlarmState.read(body));
      steps.said(watch(channel), said);
    } catch (MalformedMessage e) {
      Logger.warn("The alarm of {} cannot be read: {}", channel.baseName(), e.getMessage());
    }
  }

  /** What a job has taught of a chip its device is told. */
  private void changed(DeviceWatch watch, DeviceWatch.Change change) {
    steps.changed(watch, change);
    if (change.learned()) {
      devices.tell(watch.device(), pace.now(), "");
    }
  }

  private void tick() {
    stepAll();
    for (RoomName room : predictionsDue()) {
      predicted.apply(room).ifPresent(ppm -> predicted(room, ppm));
    }
  }

  private synchronized Set<RoomName> predictionsDue() {
    return watches.all().stream()
        .filter(
            watch ->
                watch.predictionDue()
                    || bumpTests.of(watch.channel()).predictionDue(watch.watch().now()))
        .map(watch -> watch.channel().room())
        .collect(Collectors.toSet());
  }

  private synchronized void predicted(RoomName room, double ppm) {
    for (DeviceWatch watch : watches.in(room)) {
      watch.predicted(ppm);
      bumpTests.of(watch.channel()).predicted(watch.watch().now(), ppm);
    }
  }

  private synchronized void stepAll() {
    for (DeviceWatch watch : watches.all()) {
      changed(watch, watch.tick(watches.rules(watch.channel()), watches.time()));
      proven(watch);
    }
    decided.endJobs();
    long now = core.link().connects();
    if (now != connects) {
      connects = now;
      watches.all().forEach(watch -> devices.tellAgain(watch.device(), pace.now()));
      core.rooms().forEach(this::tellUnwatchedAgain);
      tellAll();
    }
  }

  /** A device without a vapor sensor may have been told of corrections. */
  private void tellUnwatchedAgain(RoomName room) {
    core.snapshot(room).devices().stream()
        .map(DeviceRecord::channel)
        .filter(channel -> watches.of(channel).isEmpty())
        .forEach(devices::tellAgain);
  }

  private synchronized void tellAll() {
    core.rooms().forEach(steps::tell);
  }

  /**
   * Who predicts the styrene in a room from what was mixed in it, ppm. Asked while no lock is held.
   */
  public void predictedBy(Function<RoomName, OptionalDouble> predictor) {
    predicted = predictor;
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
    return decided.decide(room, who, change);
  }

  /**
   * A job begins, or goes on longer: until it ends the warnings in the layup room are quieter where
   * fan and respirator are on. The devices are told.
   */
  public synchronized void jobStarted(RoomName room, AirJob job) {
    decided.jobStarted(room, job);
  }

  /**
   * Solvent is being wiped: for a quarter of an hour ventilate makes no sound in the layup room.
   * Lamp and fan stay, and so does everything else. The devices are told, and the log keeps it.
   *
   * @param saidAs an id made by whoever says so: saying it again changes nothing
   * @param who 1 to 60 characters
   * @throws IllegalArgumentException while the air is unknown, during a leave, and twice in an hour
   */
  public synchronized void wiping(RoomName room, String saidAs, String who) {
    String name = PersonName.checked(who);
    if (log.said(room, saidAs).isPresent()) {
      return;
    }
    decided.wiping(room, name);
    log.wiping(room, saidAs, name, clock.wall());
  }

  /** The job is over: the full warnings hold again, and the devices are told. */
  public synchronized void jobEnded(RoomName room) {
    decided.jobEnded(room);
  }

  /**
   * Somebody has seen a warning; the device is told where it sounds one that is no worse.
   *
   * @param saidAs an id made by whoever says so: saying it again changes nothing
   * @param who 1 to 60 characters
   */
  public synchronized Acknowledging acknowledge(
      RoomName room, String warningId, String saidAs, String who) {
    String name = PersonName.checked(who);
    if (acknowledgments.saidBefore(room, saidAs)) {
      return Acknowledging.SAID_BEFORE;
    }
    return steps.seen(watches.in(room), warningId, saidAs, name)
        ? Acknowledging.KEPT
        : Acknowledging.NOT_OPEN;
  }

  /** What people decided that the sensors of a device are off by. */
  public synchronized List<SensorOffset> offsets(Channel channel) {
    return offsets.of(channel);
  }

  /** Decides what a sensor is corrected by; its device is told. */
  public synchronized void correct(Channel channel, SensorOffset offset) {
    String who = PersonName.checked(offset.who());
    offsets.keep(channel, new SensorOffset(offset.series(), offset.amount(), offset.taken(), who));
    devices.tell(watch(channel).device(), pace.now(), who);
  }

  /** What is known of a room's air now. */
  public synchronized RoomAir air(RoomName room) {
    return picture.air(room);
  }

  /** The newest entries of the warnings' log, the newest first, at most so many. */
  public List<JsonNode> log(RoomName room, int most) {
    return log.newest(room, most);
  }

  /**
   * The state of a room's air for the mix check: the worst of all devices that measure vapor there,
   * each of which counts by what it says itself if that is worse.
   */
  public synchronized AirState state(RoomSnapshot room) {
    Mode mode = decisions.settings(room.room()).mode();
    return VaporSources.counting(room, mode).stream()
        .map(device -> picture.state(watch(new Channel(room.room(), device))))
        .max(Comparator.comparing(state -> AirCall.valueOf(state.kind().name())))
        .orElseGet(AirState::notMeasured);
  }

  /** A cup was mixed in a room: its vapor sensor must show a rise. */
  public synchronized void cupMixed(RoomName room, Instant mixed, double grams) {
    bumpTests.cupMixed(room, mixed, grams);
  }

  /** A cup was taken back, or the part is given up: no rise is expected of it. */
  public synchronized void noCup(RoomName room) {
    bumpTests.noCup(room);
  }

  /**
   * Begins a bump test of a room's vapor sensor. Its rise is real: lamp, buzzer and fan come on by
   * it.
   *
   * @param saidAs an id made by whoever begins: saying it again changes nothing
   * @param who 1 to 60 characters
   * @throws IllegalArgumentException where a rise could not be seen now
   */
  public synchronized void beginBumpTest(
      RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    Mode mode = decisions.settings(room).mode();
    DeviceWatch watch = bumpTests.begin(room, device, mode, saidAs, PersonName.checked(who));
    procedures.callOff(watch.channel());
  }

  /** Somebody says whether lamp, buzzer and fan came on in the newest bump test. */
  public synchronized void alarmSeen(
      RoomName room, Optional<DeviceName> device, String saidAs, String who, boolean seen) {
    Mode mode = decisions.settings(room).mode();
    bumpTests.alarmSeen(room, device, mode, saidAs, PersonName.checked(who), seen);
  }

  /**
   * Somebody put a new vapor sensor in. Its age, hours and tests begin anew, and nothing that was
   * learned of the one before holds: until its own clean-air reading is taken the air is unknown.
   *
   * @param saidAs an id made by whoever says so: saying it again changes nothing
   * @param who 1 to 60 characters
   */
  public synchronized void newSensor(
      RoomName room, Optional<DeviceName> device, String saidAs, String who) {
    String name = PersonName.checked(who);
    Mode mode = decisions.settings(room).mode();
    bumpTests
        .fitted(room, device, mode, saidAs, name)
        .ifPresent(
            watch -> {
              procedures.callOff(watch.channel());
              steps.changed(watch, watch.fitted(watches.rules(watch.channel()), watches.time()));
              steps.changed(watch, watch.doubted(bumpTests.doubt(watch)));
              decided.tellDevices(room, name);
            });
  }

  /** The bump test that is under way with a device; empty when none is. */
  public synchronized Optional<BumpRun.State> bumpTest(Channel channel) {
    return watches.of(channel).flatMap(watch -> bumpTests.of(channel).state(watch.watch().now()));
  }

  /** When the bump tests of a room were through. */
  public synchronized List<Instant> bumpTests(RoomName room) {
    return bumpTests.tests(room);
  }

  /** Who is told, while a lock is held, when a bump test begins. */
  public synchronized void onBumpTest(Consumer<Channel> listener) {
    bumpTests.onBegun(listener);
  }

  /** Begins the clean-air procedure of the device that speaks for a room's air, or of another. */
  public synchronized CleanAirRun.State beginCleanAir(
      RoomName room, Optional<DeviceName> device, CleanAirRun.Promised promised) {
    return procedures.begin(room, device, promised);
  }

  /** How far the clean-air procedure is; empty when none was begun. */
  public synchronized Optional<CleanAirRun.State> cleanAir(
      RoomName room, Optional<DeviceName> device) {
    return procedures.state(room, device);
  }

  /**
   * Takes the clean-air reading when the procedure is through; a doubtful one only when confirmed.
   * The device is told.
   *
   * @return the reading that was taken; empty when it cannot be yet
   */
  public synchronized Optional<CleanAirReading> takeCleanAir(
      RoomName room, Optional<DeviceName> device, String who, String saidAs, boolean confirmed) {
    String name = PersonName.checked(who);
    Optional<CleanAirProcedures.Taken> taken = procedures.take(room, device, confirmed);
    taken.ifPresent(
        one -> {
          store.keep(one.channel(), one.reading(), name, saidAs);
          DeviceWatch watch = watch(one.channel());
          bumpTests.of(one.channel()).cleanAir(watch.cleanAir(), one.reading());
          steps.changed(
              watch, watch.cleanAir(one.reading(), watches.rules(one.channel()), watches.time()));
          decided.tellDevices(room, name);
        });
    return taken.map(CleanAirProcedures.Taken::reading);
  }

  /** Stops to watch; what stands is kept. */
  @Override
  public void close() {
    core.removeListener(this);
    tasks.forEach(Pace.Scheduled::cancel);
    keepHours();
  }

  /** Once: by a second close the store may be gone. */
  private synchronized void keepHours() {
    if (!closed) {
      closed = true;
      bumpTests.close();
    }
  }
}
