package org.layroom.dashboard.room;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.store.DeviceRecord;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.RoomName;

/**
 * All that is known of a room at one moment. Never changes.
 *
 * @param at the moment, on the room's clock
 * @param linked whether the dashboard is connected to its broker
 * @param values newest reading of each series, from the device that speaks for it
 * @param speakers which devices measure a series, and who was chosen to speak for it
 * @param devices every device ever heard of in this room
 * @param vocRaw raw VOC values of the last 15 minutes from the device that speaks for them, oldest
 *     first
 */
public record RoomSnapshot(
    RoomName room,
    Instant at,
    boolean linked,
    Map<String, LiveValue> values,
    Speakers speakers,
    List<DeviceRecord> devices,
    List<TimedValue> vocRaw) {

  /**
   * Who measures what. Two devices are never averaged.
   *
   * @param measured the newest reading of each device that has a series, the device first heard of
   *     first
   * @param chosen the device that somebody chose for a series
   */
  public record Speakers(Map<String, List<LiveValue>> measured, Map<String, DeviceName> chosen) {
    /** Of a room where each series has one device at most. */
    public static final Speakers NONE = new Speakers(Map.of(), Map.of());

    public Speakers {
      measured = Map.copyOf(measured);
      chosen = Map.copyOf(chosen);
    }

    /** The newest reading of every device that has a series. */
    public List<LiveValue> of(String series) {
      return measured.getOrDefault(series, List.of());
    }
  }

  /** A value and how old it is. */
  public record TimedValue(Instant time, double value, Duration age) {}

  public RoomSnapshot {
    values = Map.copyOf(values);
    devices = List.copyOf(devices);
    vocRaw = List.copyOf(vocRaw);
  }

  /**
   * The newest reading of a series, whatever its age or quality; empty when there never was one.
   */
  public Optional<LiveValue> value(String series) {
    return Optional.ofNullable(values.get(series));
  }

  /** The newest reading of a series if it is good and not older than this. */
  public Optional<LiveValue> fresh(String series, Duration oldest) {
    return value(series)
        .filter(v -> v.reading().quality().isGood() && v.reading().value().isPresent())
        .filter(v -> v.age().compareTo(oldest) <= 0);
  }
}
