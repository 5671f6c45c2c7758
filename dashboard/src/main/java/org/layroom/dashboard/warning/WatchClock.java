package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import org.layroom.device.pace.Pace;

/**
 * Time for the watches: shows the wall clock of the start and runs on by the running time, so that
 * a wall clock that is set meanwhile changes no average. A clock that was not set at the start is
 * moved forward once, when it is.
 */
final class WatchClock {
  private final Pace pace;
  private Instant zero;
  private boolean believed;

  /** Times of the watches up to here were shown before the move. */
  private Instant movedAfter = Instant.MIN;

  private Duration moved = Duration.ZERO;

  WatchClock(Pace pace) {
    this.pace = pace;
    zero = pace.now().minus(pace.uptime());
    believed = pace.wallClockSet();
  }

  /** Now, on the watches' time. */
  synchronized Instant now() {
    if (!believed && pace.wallClockSet()) {
      Duration uptime = pace.uptime();
      Instant real = pace.now().minus(uptime);
      if (real.isAfter(zero)) {
        movedAfter = zero.plus(uptime);
        moved = Duration.between(zero, real);
        zero = real;
      }
      believed = true;
    }
    return zero.plus(pace.uptime());
  }

  /** Now by the wall clock. */
  Instant wall() {
    return pace.now();
  }

  /** A time of the wall clock on the watches' time. */
  Instant of(Instant wall) {
    return wall.plus(ahead());
  }

  /** A time of the watches on the wall clock of now, also where it was shown before the move. */
  synchronized Instant wall(Instant time) {
    Duration ahead = ahead();
    return (time.isAfter(movedAfter) ? time : time.plus(moved)).minus(ahead);
  }

  private Duration ahead() {
    Duration ahead = Duration.between(pace.now(), now());
    return ahead.abs().compareTo(Duration.ofMillis(500)) < 0 ? Duration.ZERO : ahead;
  }
}
