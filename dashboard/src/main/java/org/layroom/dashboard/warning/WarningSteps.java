package org.layroom.dashboard.warning;

import java.util.Optional;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirWarning;

/**
 * What follows when a watch has stepped, a device has spoken or somebody has seen a warning: it is
 * kept in the log, the device's own warning is settled, and the room's warnings are told. Not for
 * several threads.
 */
final class WarningSteps {
  private final WarningLog log;
  private final Acknowledgments acknowledgments;
  private final DeviceWarnings own;
  private final WarningPublisher publisher;
  private final WatchClock clock;

  WarningSteps(
      WarningLog log,
      Acknowledgments acknowledgments,
      DeviceWarnings own,
      WarningPublisher publisher,
      WatchClock clock) {
    this.log = log;
    this.acknowledgments = acknowledgments;
    this.own = own;
    this.publisher = publisher;
    this.clock = clock;
  }

  /** A watch begins: a warning that stood before the last stop is in the log. */
  void begun(DeviceWatch watch) {
    watch
        .watch()
        .warning()
        .ifPresent(one -> log.raised(watch.channel().room(), watch.open(one, clock)));
  }

  /** A device has said what its own alarm is. */
  void said(DeviceWatch watch, AlarmState said) {
    watch.alarm(said);
    acknowledgments.answer(watch, said);
    acknowledgments.takenOver(watch, said).ifPresent(change -> changed(watch, change));
    own.settle(watch, clock.wall());
    publisher.tell(watch.channel().room());
  }

  /** A watch has stepped: what it raised or ended is kept and told. */
  void changed(DeviceWatch watch, DeviceWatch.Change change) {
    RoomName room = watch.channel().room();
    change.ended().ifPresent(ended -> log.ended(room, watch.id(ended), clock.wall()));
    change.raised().ifPresent(raised -> log.raised(room, watch.open(raised, clock)));
    change
        .raised()
        .filter(raised -> isNew(raised, change))
        .flatMap(raised -> acknowledgments.joined(watch, raised))
        .ifPresent(seen -> changed(watch, seen));
    own.settle(watch, clock.wall());
    if (change.toKeep()) {
      publisher.tell(room);
    }
  }

  /** Tells a room's warnings. */
  void tell(RoomName room) {
    publisher.tell(room);
  }

  /** Raised anew because it got worse it must be seen anew. */
  private static boolean isNew(AirWarning raised, DeviceWatch.Change change) {
    return change.ended().filter(ended -> ended.call() == raised.call()).isEmpty();
  }

  /** Somebody has seen a warning of one of these watches; false when none of them has it. */
  boolean seen(Iterable<DeviceWatch> watches, String warningId, String saidAs, String who) {
    for (DeviceWatch watch : watches) {
      Optional<AirWarning> standing =
          watch.watch().warning().filter(one -> watch.id(one).equals(warningId));
      if (standing.isPresent()) {
        seen(watch, standing.get(), saidAs, who);
        return true;
      }
      Optional<AlarmState> alarm =
          watch.alarm().filter(said -> DeviceWarnings.id(watch.channel(), said).equals(warningId));
      if (alarm.isPresent()) {
        seenOwn(watch, alarm.get(), saidAs, who);
        return true;
      }
    }
    return false;
  }

  private void seen(DeviceWatch watch, AirWarning standing, String saidAs, String who) {
    acknowledgments.see(watch, standing, saidAs, who).ifPresent(change -> changed(watch, change));
    acknowledgments.tellDevice(watch, standing.call(), new AirWarning.Seen(who, clock.wall()));
  }

  private void seenOwn(DeviceWatch watch, AlarmState alarm, String saidAs, String who) {
    acknowledgments.seeOwn(watch, alarm, saidAs, who);
    acknowledgments.tellDevice(
        watch, DeviceWarnings.call(alarm), new AirWarning.Seen(who, clock.wall()));
    watch
        .watch()
        .warning()
        .flatMap(here -> acknowledgments.joined(watch, here))
        .ifPresent(change -> changed(watch, change));
    own.settle(watch, clock.wall());
    publisher.tell(watch.channel().room());
  }
}
