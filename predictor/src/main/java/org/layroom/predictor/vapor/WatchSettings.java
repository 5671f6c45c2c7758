package org.layroom.predictor.vapor;

import java.time.Duration;
import java.util.Optional;

/**
 * How one sensor is watched.
 *
 * @param sensor what measures
 * @param place where it stands
 * @param longestSilence without a reading for this long the air is unknown: 30 s on the device
 *     itself, more where readings travel; above 0, at most 10 min
 * @param doubt why the sensor is not believed whatever it says, short of leave: it failed its bump
 *     test, or missed a rise
 */
public record WatchSettings(
    VaporSensor sensor, Place place, Duration longestSilence, Optional<String> doubt) {
  /** Where the sensor stands. */
  public enum Place {
    /** In the layup room: quieter during a job with a chip, or it would be unplugged. */
    WORK_ROOM,
    /** On the house side of the door: always the full warnings. */
    HOUSE_SIDE
  }

  private static final Duration USUAL_SILENCE = Duration.ofSeconds(30);
  private static final Duration MOST_SILENCE = Duration.ofMinutes(10);

  public WatchSettings {
    if (longestSilence.isZero()
        || longestSilence.isNegative()
        || longestSilence.compareTo(MOST_SILENCE) > 0) {
      throw new IllegalArgumentException(
          "longest silence "
              + longestSilence.toSeconds()
              + " s must be above 0 and at most "
              + MOST_SILENCE.toSeconds()
              + " s");
    }
  }

  /** A sensor that nobody doubts. */
  public WatchSettings(VaporSensor sensor, Place place, Duration longestSilence) {
    this(sensor, place, longestSilence, Optional.empty());
  }

  /** A sensor in the layup room, as the device itself watches it. */
  public static WatchSettings workRoom(VaporSensor sensor) {
    return new WatchSettings(sensor, Place.WORK_ROOM, USUAL_SILENCE);
  }

  /** A sensor on the house side of the door. */
  public static WatchSettings houseSide(VaporSensor sensor) {
    return new WatchSettings(sensor, Place.HOUSE_SIDE, USUAL_SILENCE);
  }

  /** The same on the house side of the door. */
  public WatchSettings onHouseSide() {
    return new WatchSettings(sensor, Place.HOUSE_SIDE, longestSilence, doubt);
  }

  /** The same with another sensor, or with what has been learned about it. */
  public WatchSettings with(VaporSensor other) {
    return new WatchSettings(other, place, longestSilence, doubt);
  }

  /** The same with another reason to doubt the sensor, or none. */
  public WatchSettings doubting(Optional<String> reason) {
    return new WatchSettings(sensor, place, longestSilence, reason);
  }
}
