package org.layroom.dashboard.warning;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.fumes.AirEvent;
import org.layroom.predictor.fumes.CleanAirReading;

/** The clean-air procedures under way, one a device. Not for several threads. */
final class CleanAirProcedures {
  private final DashboardCore core;
  private final WatchClock clock;
  private final Map<Channel, CleanAirDesk> going = new HashMap<>();

  /** A reading that was taken, dated by the wall clock. */
  record Taken(Channel channel, CleanAirReading reading) {}

  CleanAirProcedures(DashboardCore core, WatchClock clock) {
    this.core = core;
    this.clock = clock;
  }

  /** A raw signal came in. */
  void plus(Channel channel, AirEvent.Ticks ticks) {
    going.computeIfPresent(channel, (known, procedure) -> procedure.plus(ticks));
  }

  CleanAirDesk.State begin(
      Map<Channel, DeviceWatch> watches,
      RoomName room,
      Optional<DeviceName> device,
      CleanAirDesk.Promised promised) {
    DeviceWatch watch = watch(watches, room, device);
    CleanAirDesk procedure = CleanAirDesk.begun(clock.now(), promised, watch);
    going.put(watch.channel(), procedure);
    return procedure.state(clock.now(), clock);
  }

  Optional<CleanAirDesk.State> state(
      Map<Channel, DeviceWatch> watches, RoomName room, Optional<DeviceName> device) {
    if (device.isEmpty() && Speakers.speaker(core.snapshot(room), Mode.CHIP).isEmpty()) {
      return Optional.empty();
    }
    return Optional.ofNullable(going.get(watch(watches, room, device).channel()))
        .map(procedure -> procedure.state(clock.now(), clock));
  }

  Optional<Taken> take(
      Map<Channel, DeviceWatch> watches,
      RoomName room,
      Optional<DeviceName> device,
      boolean confirmed) {
    Channel channel = watch(watches, room, device).channel();
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

  private DeviceWatch watch(
      Map<Channel, DeviceWatch> watches, RoomName room, Optional<DeviceName> device) {
    DeviceName name =
        device
            .or(() -> Speakers.speaker(core.snapshot(room), Mode.CHIP))
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "device: no device with a vapor chip has reported from this room yet"));
    return Optional.ofNullable(watches.get(new Channel(room, name)))
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "device: no device \"" + name + "\" with a vapor chip in this room"));
  }
}
