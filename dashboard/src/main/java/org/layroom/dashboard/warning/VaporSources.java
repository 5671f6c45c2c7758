package org.layroom.dashboard.warning;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;

/** Which devices measure the vapor of a room, and which of them speaks for it. */
final class VaporSources {
  private VaporSources() {}

  /** Every device that speaks for a series of vapor. */
  static List<DeviceName> devices(RoomSnapshot room) {
    return Stream.concat(AirEvents.OF_A_CHIP.stream(), AirEvents.OF_A_DETECTOR.stream())
        .flatMap(series -> room.value(series).stream())
        .map(LiveValue::device)
        .distinct()
        .toList();
  }

  /** The device that speaks for the air of a room; empty when none measures it in this mode. */
  static Optional<DeviceName> speaker(RoomSnapshot room, Mode mode) {
    List<String> series = mode == Mode.PID ? AirEvents.OF_A_DETECTOR : AirEvents.OF_A_CHIP;
    return series.stream()
        .flatMap(name -> room.value(name).stream())
        .map(LiveValue::device)
        .findFirst();
  }
}
