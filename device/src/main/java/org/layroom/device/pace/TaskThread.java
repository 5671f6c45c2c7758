package org.layroom.device.pace;

import java.util.concurrent.Future;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ScheduledThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.tinylog.Logger;

/** One daemon thread that runs the tasks of a pace one after the other. */
final class TaskThread implements AutoCloseable {
  private final ScheduledThreadPoolExecutor executor;

  TaskThread(String name) {
    executor =
        new ScheduledThreadPoolExecutor(
            1,
            runnable -> {
              Thread thread = new Thread(runnable, name);
              thread.setDaemon(true);
              return thread;
            });
    executor.setRemoveOnCancelPolicy(true);
    executor.setExecuteExistingDelayedTasksAfterShutdownPolicy(false);
  }

  Pace.Scheduled every(long periodNanos, Runnable task) {
    try {
      return cancelable(
          executor.scheduleAtFixedRate(
              () -> run(task), periodNanos, periodNanos, TimeUnit.NANOSECONDS));
    } catch (RejectedExecutionException closed) {
      return () -> {};
    }
  }

  Pace.Scheduled after(long delayNanos, Runnable task) {
    try {
      return cancelable(executor.schedule(() -> run(task), delayNanos, TimeUnit.NANOSECONDS));
    } catch (RejectedExecutionException closed) {
      return () -> {};
    }
  }

  /** Runs a task; what it throws is logged and goes no further. */
  static void run(Runnable task) {
    try {
      task.run();
    } catch (RuntimeException | StackOverflowError e) {
      Logger.error(e, "A scheduled task failed; it runs again at its next time");
    }
  }

  static void sleep(long nanos) throws InterruptedException {
    if (nanos > 0) {
      TimeUnit.NANOSECONDS.sleep(nanos);
    }
  }

  private static Pace.Scheduled cancelable(Future<?> future) {
    return () -> future.cancel(false);
  }

  @Override
  public void close() {
    executor.shutdownNow();
  }
}
