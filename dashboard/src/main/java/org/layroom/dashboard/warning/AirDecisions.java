package org.layroom.dashboard.warning;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import org.layroom.dashboard.decision.AirJob;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.decision.DeviceDecisions;
import org.layroom.dashboard.decision.PersonName;
import org.layroom.dashboard.decision.RoomDecisions;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirEvent;

/**
 * What a decision about the air of a room does: it is kept, the room's watches step by it, and its
 * devices are told. Not for several threads.
 */
final class AirDecisions {
  private final RoomDecisions decisions;
  private final DeviceDecisions devices;
  private final Watches watches;
  private final WarningSteps steps;
  private final WatchClock clock;

  AirDecisions(
      RoomDecisions decisions,
      DeviceDecisions devices,
      Watches watches,
      WarningSteps steps,
      WatchClock clock) {
    this.decisions = decisions;
    this.devices = devices;
    this.watches = watches;
    this.steps = steps;
    this.clock = clock;
  }

  AirSettings decide(RoomName room, String who, Function<AirSettings, AirSettings> change) {
    AirSettings next =
        change.apply(decisions.settings(room)).decided(clock.wall(), PersonName.checked(who));
    decisions.keep(room, next);
    for (DeviceWatch watch : watches.in(room)) {
      steps.changed(watch, watch.changed(watches.rules(watch.channel()), watches.time()));
    }
    tellDevices(room, next.by());
    return next;
  }

  /** Solvent is being wiped; the house side of the door stays as loud as it is. */
  void wiping(RoomName room, String who) {
    List<DeviceWatch> inRoom = watches.in(room).stream().filter(watch -> !watch.full()).toList();
    if (inRoom.isEmpty()) {
      throw new IllegalArgumentException("no vapor sensor reports from this room: nothing sounds");
    }
    inRoom.stream()
        .flatMap(watch -> watch.watch().wipingRefused().stream())
        .findFirst()
        .ifPresent(
            why -> {
              throw new IllegalArgumentException(why);
            });
    decisions.keepWiping(room, clock.wall());
    for (DeviceWatch watch : inRoom) {
      steps.changed(watch, watch.plus(new AirEvent.Wiping(watch.watch().now())));
    }
    tellDevices(room, who);
  }

  void jobStarted(RoomName room, AirJob job) {
    decisions.keep(room, Optional.of(job));
    step(
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

  void jobEnded(RoomName room) {
    if (decisions.job(room).isEmpty()) {
      return;
    }
    decisions.keep(room, Optional.empty());
    step(room, AirEvent.JobEnded::new);
    tellDevices(room, "");
  }

  /** Ends the jobs whose time is over. */
  void endJobs() {
    for (RoomName room : decisions.rooms()) {
      decisions
          .job(room)
          .filter(job -> !clock.wall().isBefore(job.until()))
          .ifPresent(job -> jobEnded(room));
    }
  }

  private void step(RoomName room, Function<Instant, AirEvent> event) {
    for (DeviceWatch watch : watches.in(room)) {
      steps.changed(watch, watch.plus(event.apply(watch.watch().now())));
    }
  }

  /** Tells the devices of a room what was decided now, and everybody what that leaves open. */
  void tellDevices(RoomName room, String by) {
    watches.in(room).forEach(watch -> devices.tell(watch.device(), clock.wall(), by));
    steps.tell(room);
  }
}
