package org.layroom.dashboard.warning;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.decision.PersonName;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.RoomListener;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.MalformedMessage;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.verdict.AirState;
import org.tinylog.Logger;

/**
 * The warnings about the air of every room: hears what comes in, steps one watch a device, keeps
 * what was raised, seen and ended, and tells it on MQTT, retained. Safe for several threads.
 */
public final class AirWarnings implements RoomListener, AutoCloseable {
  private static final Duration TICK = Duration.ofSeconds(5);
  private static final Duration TOLD_AGAIN = Duration.ofMinutes(1);

  private final AirParts parts;
  private final Watches watches;
  private final WarningSteps steps;
  private final SensorUpkeep sensors;
  private final List<Pace.Scheduled> tasks;
  private volatile Function<RoomName, OptionalDouble> predicted = room -> OptionalDouble.empty();
  private long connects = -1;
  private boolean closed;

  private AirWarnings(DashboardCore core, Pace pace, double paceFactor) {
    parts = AirParts.of(core, pace, paceFactor);
    watches = parts.watches();
    steps = parts.steps();
    sensors = new SensorUpkeep(this, parts);
    for (RoomName room : core.rooms()) {
      RoomSnapshot snapshot = core.snapshot(room);
      VaporSources.devices(snapshot).forEach(device -> parts.watch(new Channel(room, device)));
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

  @Override
  public synchronized void accepted(StoreEntry.Sample sample, boolean backlog) {
    if (!AirEvents.measureVapor(sample.readings())) {
      return;
    }
    DeviceWatch watch = parts.watch(sample.channel());
    Instant time = parts.clock().of(sample.times().corrected());
    parts.bumpTests().of(sample.channel()).sampled(time);
    if (backlog) {
      if (time.isAfter(watches.time().minus(WatchStore.SHORT_BACK))) {
        watch.refillDue();
      }
      return;
    }
    AirEvents.ticks(time, sample.readings())
        .ifPresent(ticks -> parts.procedures().plus(sample.channel(), ticks));
    DeviceWatch.Change change = watch.take(sample, watches.rules(sample.channel()), time);
    parts.changed(watch, change);
    proven(watch);
    if (change.toKeep()) {
      parts.core().commitSoon();
    }
  }

  /** What the newest step says of the sensor itself; its device is told when it changes. */
  private void proven(DeviceWatch watch) {
    parts.bumpTests().of(watch.channel()).stepped(watch.watch());
    Optional<String> doubt = parts.bumpTests().doubt(watch);
    if (!doubt.equals(watch.watch().settings().doubt())) {
      parts.changed(watch, watch.doubted(doubt));
      parts.devices().tell(watch.device(), parts.pace().now(), "");
    }
  }

  @Override
  public synchronized void said(Channel channel, Topic kind, byte[] body) {
    if (kind != Topic.ALARM) {
      return;
    }
    try {
      AlarmState said = DeviceWords.cut(AlarmState.read(body));
      steps.said(parts.watch(channel), said);
    } catch (MalformedMessage e) {
      Logger.warn("The alarm of {} cannot be read: {}", channel.baseName(), e.getMessage());
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
                    || parts.bumpTests().of(watch.channel()).predictionDue(watch.watch().now()))
        .map(watch -> watch.channel().room())
        .collect(Collectors.toSet());
  }

  private synchronized void predicted(RoomName room, double ppm) {
    for (DeviceWatch watch : watches.in(room)) {
      watch.predicted(ppm);
      parts.bumpTests().of(watch.channel()).predicted(watch.watch().now(), ppm);
    }
  }

  private synchronized void stepAll() {
    for (DeviceWatch watch : watches.all()) {
      parts.changed(watch, watch.tick(watches.rules(watch.channel()), watches.time()));
      proven(watch);
    }
    parts.decided().endJobs();
    long now = parts.core().link().connects();
    if (now != connects) {
      connects = now;
      watches.all().forEach(watch -> parts.devices().tellAgain(watch.device(), parts.pace().now()));
      parts.core().rooms().forEach(this::tellUnwatchedAgain);
      tellAll();
    }
  }

  /** A device without a vapor sensor may have been told of corrections. */
  private void tellUnwatchedAgain(RoomName room) {
    parts.core().snapshot(room).devices().stream()
        .map(DeviceRecord::channel)
        .filter(channel -> watches.of(channel).isEmpty())
        .forEach(parts.devices()::tellAgain);
  }

  private synchronized void tellAll() {
    parts.core().rooms().forEach(steps::tell);
  }

  /**
   * Who predicts the styrene in a room from what was mixed in it, ppm. Asked while no lock is held.
   */
  public void predictedBy(Function<RoomName, OptionalDouble> predictor) {
    predicted = predictor;
  }

  /** What was decided about the air of a room. */
  public synchronized AirSettings settings(RoomName room) {
    return parts.decisions().settings(room);
  }

  /**
   * Decides something about the air of a room; its devices are told.
   *
   * @param who decides, 1 to 60 characters
   */
  public synchronized AirSettings decide(
      RoomName room, String who, Function<AirSettings, AirSettings> change) {
    return parts.decided().decide(room, who, change);
  }

  /**
   * A job begins, or goes on longer: until it ends the warnings in the layup room are quieter where
   * fan and respirator are on. The devices are told.
   */
  public synchronized void jobStarted(RoomName room, AirJob job) {
    parts.decided().jobStarted(room, job);
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
    if (parts.log().said(room, saidAs).isPresent()) {
      return;
    }
    parts.decided().wiping(room, name);
    parts.log().wiping(room, saidAs, name, parts.clock().wall());
  }

  /** The job is over: the full warnings hold again, and the devices are told. */
  public synchronized void jobEnded(RoomName room) {
    parts.decided().jobEnded(room);
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
    if (parts.acknowledgments().saidBefore(room, saidAs)) {
      return Acknowledging.SAID_BEFORE;
    }
    return steps.seen(watches.in(room), warningId, saidAs, name)
        ? Acknowledging.KEPT
        : Acknowledging.NOT_OPEN;
  }

  /** What is known of a room's air now. */
  public synchronized RoomAir air(RoomName room) {
    return parts.picture().air(room);
  }

  /** The newest entries of the warnings' log, the newest first, at most so many. */
  public List<JsonNode> log(RoomName room, int most) {
    return parts.log().newest(room, most);
  }

  /** When the newest leave of a room was raised; empty when there never was one. */
  public Optional<Instant> newestLeave(RoomName room) {
    return parts.log().newestLeave(room);
  }

  /**
   * The state of a room's air for the mix check: the worst of all devices that measure vapor there,
   * each of which counts by what it says itself if that is worse.
   */
  public synchronized AirState state(RoomSnapshot room) {
    Mode mode = parts.decisions().settings(room.room()).mode();
    return VaporSources.counting(room, mode).stream()
        .map(device -> parts.picture().state(parts.watch(new Channel(room.room(), device))))
        .max(Comparator.comparing(state -> AirCall.valueOf(state.kind().name())))
        .orElseGet(AirState::notMeasured);
  }

  /** What people do about the vapor sensors and the others: tests, clean air, corrections. */
  public SensorUpkeep sensors() {
    return sensors;
  }

  /** Stops to watch; what stands is kept. */
  @Override
  public void close() {
    parts.core().removeListener(this);
    tasks.forEach(Pace.Scheduled::cancel);
    keepHours();
  }

  /** Once: by a second close the store may be gone. */
  private synchronized void keepHours() {
    if (!closed) {
      closed = true;
      parts.bumpTests().close();
    }
  }
}
