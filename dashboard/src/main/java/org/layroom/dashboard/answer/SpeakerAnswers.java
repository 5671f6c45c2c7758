package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/**
 * Which device speaks for a series that several measure: the one first heard of, until somebody
 * chooses. Two devices are never averaged.
 */
final class SpeakerAnswers {
  private final DashboardCore core;

  SpeakerAnswers(DashboardCore core) {
    this.core = core;
  }

  /** Says who measures a series besides the one who speaks for it, and whether that was chosen. */
  static void describe(ObjectNode sensor, RoomSnapshot room, String series) {
    ArrayNode devices = sensor.putArray("devices");
    List<String> names = names(room, series);
    names.forEach(devices::add);
    boolean chosen = room.speakers().chosen().containsKey(series);
    sensor.put("chosen", chosen);
    if (names.size() > 1) {
      sensor.put(
          "speaker",
          sensor.path("device").asText()
              + (chosen ? " was chosen" : " was heard first")
              + "; "
              + String.join(", ", names.stream().filter(n -> !isSpeaker(sensor, n)).toList())
              + (names.size() > 2 ? " do not count." : " does not count."));
    }
  }

  private static boolean isSpeaker(ObjectNode sensor, String name) {
    return sensor.path("device").asText().equals(name);
  }

  private static List<String> names(RoomSnapshot room, String series) {
    return room.speakers().of(series).stream()
        .map(LiveValue::device)
        .map(DeviceName::value)
        .toList();
  }

  /**
   * Lets a device speak for a series.
   *
   * @return what holds from now on, in words
   * @throws IllegalArgumentException when the device does not measure it
   */
  String choose(RoomName room, String series, String device) {
    List<String> names = names(core.snapshot(room), series);
    if (!names.contains(device)) {
      throw new IllegalArgumentException(
          "speaker: \""
              + device
              + "\" does not measure "
              + series
              + " in this room; use one of "
              + String.join(", ", names));
    }
    core.setSource(room, series, DeviceName.of(device));
    return device + " speaks for " + series + " from now on, and in all stored readings.";
  }
}
