package org.layroom.dashboard.testing;

import java.time.Duration;
import java.time.Instant;
import org.layroom.device.pace.Pace;

/** A clock that is moved by hand, wall time and running time apart. Runs no tasks. */
public final class HandPace implements Pace {
  private Instant now;
  private Duration uptime = Duration.ZERO;

  public HandPace(Instant now) {
    this.now = now;
  }

  public void pass(Duration time) {
    now = now.plus(time);
    uptime = uptime.plus(time);
  }

  public void setWallClock(Instant time) {
    now = time;
  }

  @Override
  public Instant now() {
    return now;
  }

  @Override
  public boolean wallClockSet() {
    return true;
  }

  @Override
  public Duration uptime() {
    return uptime;
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    return () -> {};
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    return () -> {};
  }

  @Override
  public void pause(Duration duration) {}

  @Override
  public void close() {}
}
