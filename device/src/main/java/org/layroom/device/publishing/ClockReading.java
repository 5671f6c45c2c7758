package org.layroom.device.publishing;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.device.pace.Pace;

/**
 * The wall clock and the running time of one and the same moment.
 *
 * @param setAt when the network last set the wall clock, where the device can tell
 */
record ClockReading(Instant wall, Duration uptime, boolean wallClockSet, Optional<Instant> setAt) {
  private static final Duration SAME = Duration.ofMillis(1);
  private static final int TRIES = 100;

  /** Reads both clocks; again when the time moved on in between. */
  static ClockReading of(Pace pace) {
    ClockReading reading = once(pace);
    for (int i = 0; i < TRIES; i++) {
      if (pace.uptime().minus(reading.uptime()).compareTo(SAME) < 0) {
        return reading;
      }
      reading = once(pace);
    }
    return reading;
  }

  private static ClockReading once(Pace pace) {
    Duration uptime = pace.uptime();
    return new ClockReading(pace.now(), uptime, pace.wallClockSet(), pace.wallClockSetAt());
  }
}
