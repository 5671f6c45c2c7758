package org.layroom.dashboard.store;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/** Rooms, devices, what each last said, and which device speaks for a series. */
public interface Sources {
  /**
   * Who speaks for a series in a room: who was chosen, else the device first heard of that has it.
   * Empty when no device has it, or the chosen one has not.
   */
  Optional<DeviceName> source(RoomName room, String series);

  /** Lets one device speak for a series from now on, in the past too. */
  void setSource(RoomName room, String series, DeviceName device);

  /** The devices that were chosen for a series of a room, by series. */
  Map<String, DeviceName> chosen(RoomName room);

  /** All rooms that a device ever spoke from, by name. */
  List<RoomName> rooms();

  /** All devices of a room, the one first heard of first. */
  List<DeviceRecord> devices(RoomName room);

  /** The newest reading of every device and series of a room, faults and doubtful ones included. */
  List<LatestReading> latest(RoomName room);
}
