package org.layroom.dashboard.testing;

import java.time.Duration;
import java.time.Instant;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import org.layroom.device.pace.Pace;

/** The computer's own clock, on one daemon thread. */
public final class RealTime implements Pace {
  private final long start = System.nanoTime();
  private final ScheduledExecutorService tasks =
      Executors.newSingleThreadScheduledExecutor(
          task -> {
            Thread thread = new Thread(task, "test-pace");
            thread.setDaemon(true);
            return thread;
          });

  @Override
  public Instant now() {
    return Instant.now();
  }

  @Override
  public boolean wallClockSet() {
    return true;
  }

  @Override
  public Duration uptime() {
    return Duration.ofNanos(System.nanoTime() - start);
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    ScheduledFuture<?> future =
        tasks.scheduleAtFixedRate(task, period.toNanos(), period.toNanos(), TimeUnit.NANOSECONDS);
    return () -> future.cancel(false);
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    ScheduledFuture<?> future = tasks.schedule(task, delay.toNanos(), TimeUnit.NANOSECONDS);
    return () -> future.cancel(false);
  }

  @Override
  public void pause(Duration duration) throws InterruptedException {
    TimeUnit.NANOSECONDS.sleep(duration.toNanos());
  }

  @Override
  public void close() {
    tasks.shutdownNow();
  }
}
