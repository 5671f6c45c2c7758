package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;

/**
 * How times of the watch are told once the wall clock is set. The watch's own time never goes back:
 * it is moved forward with the wall clock, or runs ahead of it where that was set back.
 *
 * @param before times of the watch up to here were shown before the wall clock was set
 * @param moved what the wall clock was moved by then
 */
record WallTimes(Instant before, Duration moved) {
  /** The wall clock was right from the start. */
  static final WallTimes AS_SHOWN = new WallTimes(Instant.MIN, Duration.ZERO);

  Instant of(Instant time) {
    return moved.isNegative() || !time.isAfter(before) ? time.plus(moved) : time;
  }
}
