package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.decision.RoomDecisions;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.RoomName;

/** The watches under way, one for each device that measures vapor. Not for several threads. */
final class Watches {
  private final DashboardCore core;
  private final RoomDecisions decisions;
  private final WatchStore store;
  private final WatchClock clock;
  private final Duration lag;
  private final Map<Channel, DeviceWatch> byChannel = new HashMap<>();

  /**
   * None yet.
   *
   * @param lag what a reading needs from a device to here: the watches are so much behind
   */
  Watches(
      DashboardCore core,
      RoomDecisions decisions,
      WatchStore store,
      WatchClock clock,
      Duration lag) {
    this.core = core;
    this.decisions = decisions;
    this.store = store;
    this.clock = clock;
    this.lag = lag;
  }

  /** Up to when readings have come in, on the watches' time. */
  Instant time() {
    return clock.now().minus(lag);
  }

  /** How a device is watched now. */
  WatchRules rules(Channel channel) {
    RoomName room = channel.room();
    return WatchRules.of(core.snapshot(room), channel.device(), decisions.settings(room));
  }

  /** Begins to watch a device, as it was watched before the last stop. */
  DeviceWatch begin(Channel channel) {
    DeviceWatch watch = new DeviceWatch(channel, store, rules(channel), time(), clock.now());
    byChannel.put(channel, watch);
    return watch;
  }

  Optional<DeviceWatch> of(Channel channel) {
    return Optional.ofNullable(byChannel.get(channel));
  }

  /**
   * That of the device that speaks for a room's air, or of another.
   *
   * @param device empty for the one that speaks in this mode
   * @throws IllegalArgumentException when there is none
   */
  DeviceWatch of(RoomName room, Optional<DeviceName> device, Mode mode) {
    DeviceName name =
        device
            .or(() -> VaporSources.speaker(core.snapshot(room), mode))
            .orElseThrow(
                () ->
                    new IllegalArgumentException(
                        "no device with a vapor sensor has reported from this room yet"));
    return of(new Channel(room, name))
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "device: no device \"" + name + "\" with a vapor sensor in this room"));
  }

  /** All of them as they are now, so that one may begin meanwhile. */
  List<DeviceWatch> all() {
    return List.copyOf(byChannel.values());
  }

  /** Those of a room as they are now. */
  List<DeviceWatch> in(RoomName room) {
    return byChannel.values().stream()
        .filter(watch -> watch.channel().room().equals(room))
        .toList();
  }
}
