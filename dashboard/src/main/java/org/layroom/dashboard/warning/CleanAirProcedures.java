package org.layroom.dashboard.warning;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.CleanAirReading;

/** The clean-air procedures under way, one a device. Not for several threads. */
final class CleanAirProcedures {
  private final DashboardCore core;
  private final Watches watches;
  private final WatchClock clock;
  private final Map<Channel, CleanAirRun> going = new HashMap<>();

  /** A reading that was taken, dated by the wall clock. */
  record Taken(Channel channel, CleanAirReading reading) {}

  CleanAirProcedures(DashboardCore core, Watches watches, WatchClock clock) {
    this.core = core;
    this.watches = watches;
    this.clock = clock;
  }

  /** A raw signal came in. */
  void plus(Channel channel, AirEvent.Ticks ticks) {
    going.computeIfPresent(channel, (known, procedure) -> procedure.plus(ticks));
  }

  /** A bump test begins: the air at the sensor is not clean. */
  void callOff(Channel channel) {
    going.remove(channel);
  }

  CleanAirRun.State begin(
      RoomName room, Optional<DeviceName> device, CleanAirRun.Promised promised) {
    DeviceWatch watch = watches.of(room, device, Mode.CHIP);
    CleanAirRun procedure = CleanAirRun.begun(clock.now(), promised, watch);
    going.put(watch.channel(), procedure);
    return procedure.state(clock.now(), clock);
  }

  Optional<CleanAirRun.State> state(RoomName room, Optional<DeviceName> device) {
    if (device.isEmpty() && VaporSources.speaker(core.snapshot(room), Mode.CHIP).isEmpty()) {
      return Optional.empty();
    }
    return Optional.ofNullable(going.get(watches.of(room, device, Mode.CHIP).channel()))
        .map(procedure -> procedure.state(clock.now(), clock));
  }

  Optional<Taken> take(RoomName room, Optional<DeviceName> device, boolean confirmed) {
    Channel channel = watches.of(room, device, Mode.CHIP).channel();
    Optional<CleanAirReading> reading =
        Optional.ofNullable(going.get(channel))
            .flatMap(procedure -> procedure.reading(clock.now(), confirmed));
    reading.ifPresent(taken -> going.remove(channel));
    return reading.map(
        one ->
            new Taken(
                channel,
                new CleanAirReading(
                    one.ticks(), clock.wall(one.taken()), one.temperatureC(), one.humidityPct())));
  }
}
