package org.layroom.dashboard.warning;

import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.Series;

/** Which devices measure the vapor of a room, and which of them speaks for it. */
final class Speakers {
  private Speakers() {}

  /** Every device that speaks for a series of vapor. */
  static List<DeviceName> devices(RoomSnapshot room) {
    return AirReadings.SERIES.subList(0, 4).stream()
        .flatMap(series -> room.value(series).stream())
        .map(LiveValue::device)
        .distinct()
        .toList();
  }

  /** The device that speaks for the air of a room; empty when none measures it in this mode. */
  static Optional<DeviceName> speaker(RoomSnapshot room, Mode mode) {
    List<String> series =
        mode == Mode.PID
            ? List.of(AirReadings.ISOBUTYLENE, Series.STYRENE_ESTIMATE)
            : List.of(Series.VOC_RAW, Series.VOC_LEVEL);
    return series.stream()
        .flatMap(name -> room.value(name).stream())
        .map(LiveValue::device)
        .findFirst();
  }
}
