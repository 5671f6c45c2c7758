package org.layroom.dashboard.replay;

import java.time.Duration;
import java.time.Instant;
import org.layroom.device.pace.Pace;

/**
 * The pace of a replay as the dashboard sees it. At full speed the recording's clock runs hours
 * ahead while a message is on its way, so the dashboard must not hold that against the device's
 * clock.
 */
record UnsureClock(Pace pace) implements Pace {
  @Override
  public Instant now() {
    return pace.now();
  }

  @Override
  public boolean wallClockSet() {
    return false;
  }

  @Override
  public Duration uptime() {
    return pace.uptime();
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    return pace.every(period, task);
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    return pace.after(delay, task);
  }

  @Override
  public void pause(Duration duration) throws InterruptedException {
    pace.pause(duration);
  }

  @Override
  public void close() {
    pace.close();
  }
}
