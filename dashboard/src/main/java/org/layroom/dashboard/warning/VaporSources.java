package org.layroom.dashboard.warning;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;

/** Which devices measure the vapor of a room, and which of them the clean-air reading is of. */
final class VaporSources {
  /** A choice: longer than a night and a day off, so that nobody forgets a device that failed. */
  private static final Duration GONE_AFTER = Duration.ofDays(1);

  private VaporSources() {}

  /** Every device that measures vapor. */
  static List<DeviceName> devices(RoomSnapshot room) {
    return Stream.concat(AirEvents.OF_A_CHIP.stream(), AirEvents.OF_A_DETECTOR.stream())
        .flatMap(series -> room.speakers().of(series).stream())
        .map(LiveValue::device)
        .distinct()
        .toList();
  }

  /**
   * The devices whose air counts for the mix check: all that measure vapor in this mode. One that
   * has said nothing for a day is taken to be gone, unless all are; the page lists it as offline.
   */
  static List<DeviceName> counting(RoomSnapshot room, Mode mode) {
    List<LiveValue> all =
        series(mode).stream().flatMap(n -> room.speakers().of(n).stream()).toList();
    List<LiveValue> there =
        all.stream().filter(value -> value.age().compareTo(GONE_AFTER) <= 0).toList();
    return (there.isEmpty() ? all : there).stream().map(LiveValue::device).distinct().toList();
  }

  private static List<String> series(Mode mode) {
    return mode == Mode.PID ? AirEvents.OF_A_DETECTOR : AirEvents.OF_A_CHIP;
  }

  /** The device that was chosen or heard first; empty when none measures it in this mode. */
  static Optional<DeviceName> speaker(RoomSnapshot room, Mode mode) {
    return series(mode).stream()
        .flatMap(name -> room.value(name).stream())
        .map(LiveValue::device)
        .findFirst();
  }
}
