package org.layroom.dashboard.warning;

import java.time.Duration;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.Series;

/**
 * How one device's air is watched.
 *
 * @param full nothing quiets its warnings: it stands on the house side, or does not speak for the
 *     layup room
 * @param sendsLevels it keeps its own clean air, and sends a level above it
 * @param longestSilence without a reading for this long its air is unknown
 */
record WatchRules(
    AirSettings settings, boolean full, boolean sendsLevels, Duration longestSilence) {
  private static final Duration USUAL_SILENCE = Duration.ofMinutes(2);

  /** The rules for a device of a room, by what was decided there. */
  static WatchRules of(RoomSnapshot room, DeviceName device, AirSettings decided) {
    boolean speaks = VaporSources.speaker(room, decided.mode()).filter(device::equals).isPresent();
    boolean levels =
        room.value(Series.VOC_LEVEL).filter(value -> value.device().equals(device)).isPresent();
    return new WatchRules(
        decided, !speaks || decided.houseSide().contains(device), levels, USUAL_SILENCE);
  }
}
