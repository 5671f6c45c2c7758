package org.layroom.dashboard.warning;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.telemetry.Acknowledgment;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Topic;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.AirWarning;

/**
 * What is told of warnings, and who has seen them, here or at the device: what somebody has seen of
 * the one counts for the other where both mean the same rise. Not for several threads.
 */
final class WarningDesk {
  /** Two warnings of one rise begin at most so far apart. */
  private static final Duration SAME_RISE = Duration.ofMinutes(10);

  private final DashboardCore core;
  private final Pace pace;
  private final WatchClock clock;
  private final WarningLog log;
  private final DeviceDesk desk;
  private final RoomDecisions decisions;
  private final AirPicture picture;
  private final Map<Channel, DeviceWatch> watches;

  WarningDesk(
      DashboardCore core,
      Pace pace,
      WatchClock clock,
      WarningLog log,
      DeviceDesk desk,
      RoomDecisions decisions,
      AirPicture picture,
      Map<Channel, DeviceWatch> watches) {
    this.core = core;
    this.pace = pace;
    this.clock = clock;
    this.log = log;
    this.desk = desk;
    this.decisions = decisions;
    this.picture = picture;
    this.watches = watches;
  }

  /** A device has said what its own alarm is. */
  void said(DeviceWatch watch, AlarmState said) {
    watch.alarm(said);
    desk.said(watch.channel(), said);
    desk.seenBefore(watch);
    takeOver(watch, said, false);
    settleDeviceWarning(watch);
    tell(watch.channel().room());
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
    if (log.seen(watch.channel().room(), AirPicture.id(watch, standing), saidAs, seen)) {
      changed(
          watch, watch.plus(new AirEvent.Acknowledged(watch.watch().now(), standing.id(), who)));
    }
  }

  /** A watch has stepped: what it raised or ended is kept and told. */
  void changed(DeviceWatch watch, DeviceWatch.Change change) {
    RoomName room = watch.channel().room();
    change.ended().ifPresent(ended -> log.ended(room, AirPicture.id(watch, ended), pace.now()));
    change.raised().ifPresent(raised -> log.raised(room, picture.open(watch, raised)));
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
    desk.settle(watch, AirPicture.full(watch), online(watch.channel()), pace.now());
  }

  private boolean online(Channel channel) {
    return core.snapshot(channel.room()).devices().stream()
        .filter(device -> device.channel().equals(channel))
        .anyMatch(device -> device.said().filter(said -> said.status().online()).isPresent());
  }

  /** Somebody has seen a warning; see {@link AirWarnings#acknowledge}. */
  AirWarnings.Acknowledging acknowledge(
      RoomName room, String warningId, String saidAs, String who) {
    String name = Who.checked(who);
    if (log.said(room, saidAs).isPresent()) {
      return AirWarnings.Acknowledging.SAID_BEFORE;
    }
    for (DeviceWatch watch : List.copyOf(watches.values())) {
      Optional<AirWarning> standing =
          watch.watch().warning().filter(one -> AirPicture.id(watch, one).equals(warningId));
      if (watch.channel().room().equals(room) && standing.isPresent()) {
        see(watch, standing.get(), saidAs, name);
        desk.acknowledge(watch, standing.get().call(), name, pace.now());
        return AirWarnings.Acknowledging.KEPT;
      }
      Optional<AlarmState> own =
          watch.alarm().filter(said -> DeviceDesk.id(watch, said).equals(warningId));
      if (watch.channel().room().equals(room) && own.isPresent()) {
        log.seen(room, warningId, saidAs, new AirWarning.Seen(name, pace.now()));
        desk.acknowledge(watch, DeviceDesk.call(own.get()), name, pace.now());
        watch.watch().warning().ifPresent(here -> joined(watch, here));
        settleDeviceWarning(watch);
        tell(room);
        return AirWarnings.Acknowledging.KEPT;
      }
    }
    return AirWarnings.Acknowledging.NOT_OPEN;
  }

  /** Tells a room's warnings, retained. */
  void tell(RoomName room) {
    String body =
        WarningJson.told(room, picture.air(room), pace.now().plus(AirWarnings.STANDS)).toString();
    core.publish(Topic.warnings(room), body.getBytes(StandardCharsets.UTF_8), true);
  }

  /** Tells a device again what was decided last. */
  void tellAgain(DeviceWatch watch) {
    tellDevice(watch, new DeviceDesk.Decided(pace.now(), "", false));
  }

  /** Tells a device what stands decided at a moment. */
  void tellDevice(DeviceWatch watch, DeviceDesk.Decided when) {
    RoomName room = watch.channel().room();
    desk.decide(watch, decisions.settings(room), AirPicture.full(watch), decisions.job(room), when);
  }

  /** Tells the devices of a room what was decided now. */
  void tellDevices(RoomName room, String by) {
    watches.values().stream()
        .filter(watch -> watch.channel().room().equals(room))
        .forEach(watch -> tellDevice(watch, new DeviceDesk.Decided(pace.now(), by, true)));
    tell(room);
  }
}
