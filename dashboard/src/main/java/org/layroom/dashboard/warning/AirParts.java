package org.layroom.dashboard.warning;

import java.time.Duration;
import java.util.Optional;
import org.layroom.dashboard.decision.DeviceDecisions;
import org.layroom.dashboard.decision.RoomDecisions;
import org.layroom.dashboard.decision.SensorOffsets;
import org.layroom.dashboard.decision.SentAcknowledgments;
import org.layroom.dashboard.decision.SentDecisions;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Channel;

/** What the warnings are made of, wired once. Not for several threads. */
record AirParts(
    DashboardCore core,
    Pace pace,
    WatchClock clock,
    WatchStore store,
    WarningLog log,
    RoomDecisions decisions,
    Watches watches,
    SensorOffsets offsets,
    DeviceDecisions devices,
    Acknowledgments acknowledgments,
    AirPicture picture,
    WarningSteps steps,
    AirDecisions decided,
    CleanAirProcedures procedures,
    BumpTests bumpTests) {
  /** Readings need this long of real time from a device to here. */
  private static final Duration ON_THE_WAY = Duration.ofSeconds(2);

  /** All of them, over a core. */
  static AirParts of(DashboardCore core, Pace pace, double paceFactor) {
    Duration lag = Duration.ofMillis(Math.round(ON_THE_WAY.toMillis() * Math.max(1, paceFactor)));
    WatchClock clock = new WatchClock(pace);
    WatchStore store = new WatchStore(core.store());
    WarningLog log = new WarningLog(core.store().events());
    RoomDecisions decisions = new RoomDecisions(core.store().events());
    Watches watches = new Watches(core, decisions, store, clock, lag);
    SensorOffsets offsets = new SensorOffsets(core.store().events());
    SentDecisions sent = new SentDecisions(core);
    DeviceDecisions devices = new DeviceDecisions(decisions, offsets, sent);
    SentAcknowledgments seen = new SentAcknowledgments(core);
    Acknowledgments acknowledgments = new Acknowledgments(log, seen, clock);
    DeviceWarnings own = new DeviceWarnings(core, log, seen);
    BumpTests bumpTests = new BumpTests(core, watches, clock);
    AirPicture picture = new AirPicture(watches, decisions, sent, own, bumpTests, clock);
    WarningPublisher publisher = new WarningPublisher(core, picture);
    WarningSteps steps = new WarningSteps(log, acknowledgments, own, publisher, clock);
    return new AirParts(
        core,
        pace,
        clock,
        store,
        log,
        decisions,
        watches,
        offsets,
        devices,
        acknowledgments,
        picture,
        steps,
        new AirDecisions(decisions, devices, watches, steps, clock),
        new CleanAirProcedures(core, watches, clock),
        bumpTests);
  }

  /** The watch of a device, begun where there was none. */
  DeviceWatch watch(Channel channel) {
    return watches.of(channel).orElseGet(() -> begin(channel));
  }

  private DeviceWatch begin(Channel channel) {
    DeviceWatch fresh = watches.begin(channel);
    steps.begun(fresh);
    bumpTests.doubt(fresh).ifPresent(why -> changed(fresh, fresh.doubted(Optional.of(why))));
    devices.tellAgain(fresh.device(), pace.now());
    return fresh;
  }

  /** What a job has taught of a chip its device is told. */
  void changed(DeviceWatch watch, DeviceWatch.Change change) {
    steps.changed(watch, change);
    if (change.learned()) {
      devices.tell(watch.device(), pace.now(), "");
    }
  }
}
