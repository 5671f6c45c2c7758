package org.layroom.device.pace;

import java.time.Duration;
import java.time.Instant;

/**
 * Time for the watches: shows the wall clock of the start and runs on by the running time, so that
 * a wall clock that is set meanwhile changes no average. A clock that was not set at the start is
 * moved forward once, when it is.
 */
public final class WatchClock {
  private final Pace pace;
  private Instant zero;
  private boolean believed;

  /** Times of the watches up to here were shown before the move. */
  private Instant movedAfter = Instant.MIN;

  private Duration moved = Duration.ZERO;

  /** A clock that begins with what the wall clock shows now. */
  public WatchClock(Pace pace) {
    this.pace = pace;
    zero = pace.now().minus(pace.uptime());
    believed = pace.wallClockSet();
  }

  /** Now, on the watches' time. */
  public synchronized Instant now() {
    return at(pace.uptime());
  }

  /**
   * A moment of this start, on the watches' time.
   *
   * @param when running time then
   */
  public synchronized Instant at(Duration when) {
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
    return zero.plus(when);
  }

  /** Whether the wall clock was set at some time, so that times mean something to others. */
  public synchronized boolean believed() {
    now();
    return believed;
  }

  /** Now by the wall clock. */
  public Instant wall() {
    return pace.now();
  }

  /** A time of the wall clock on the watches' time. */
  public Instant of(Instant wall) {
    return wall.plus(ahead());
  }

  /** A time of the watches on the wall clock of now, also where it was shown before the move. */
  public synchronized Instant wall(Instant time) {
    Duration ahead = ahead();
    return (time.isAfter(movedAfter) ? time : time.plus(moved)).minus(ahead);
  }

  private Duration ahead() {
    Duration ahead = Duration.between(pace.now(), now());
    return ahead.abs().compareTo(Duration.ofMillis(500)) < 0 ? Duration.ZERO : ahead;
  }
}
