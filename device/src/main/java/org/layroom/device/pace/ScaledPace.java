package org.layroom.device.pace;

import java.time.Duration;
import java.time.Instant;

/** Time that starts at a chosen moment and runs faster (or slower) than the computer's clocks. */
public final class ScaledPace implements Pace {
  /** A day in a quarter of a second: beyond this, nothing on screen could be followed. */
  private static final double LARGEST_FACTOR = 345_600;

  private final long startNanos = System.nanoTime();
  private final Instant start;
  private final double factor;
  private final TaskThread tasks = new TaskThread("layroom-scaled-pace");

  /**
   * A pace of its own.
   *
   * @param start what the wall clock shows now
   * @param factor seconds of this pace in one real second, above 0, at most 345 600
   */
  public ScaledPace(Instant start, double factor) {
    if (!(factor > 0 && factor <= LARGEST_FACTOR)) {
      throw new IllegalArgumentException(
          "speed " + factor + " must be above 0 and at most " + (long) LARGEST_FACTOR);
    }
    this.start = start;
    this.factor = factor;
  }

  public double factor() {
    return factor;
  }

  @Override
  public Instant now() {
    return start.plus(uptime());
  }

  @Override
  public boolean wallClockSet() {
    return true;
  }

  @Override
  public Duration uptime() {
    return Duration.ofNanos((long) ((System.nanoTime() - startNanos) * factor));
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    return tasks.every(Math.max(1, realNanos(Periods.checked(period))), task);
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    return tasks.after(Math.max(0, realNanos(delay)), task);
  }

  @Override
  public void pause(Duration duration) throws InterruptedException {
    TaskThread.sleep(realNanos(duration));
  }

  @Override
  public void close() {
    tasks.close();
  }

  private long realNanos(Duration duration) {
    return (long) Math.ceil(duration.toNanos() / factor);
  }
}
