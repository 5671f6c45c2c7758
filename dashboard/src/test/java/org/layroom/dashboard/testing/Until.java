package org.layroom.dashboard.testing;

import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import java.util.function.BooleanSupplier;
import org.layroom.dashboard.room.DashboardCore;

/** Waits for a condition, and fails with its name when it does not come true in time. */
public final class Until {
  private Until() {}

  public static void within(Duration limit, String what, BooleanSupplier condition) {
    long end = System.nanoTime() + limit.toNanos();
    while (!condition.getAsBoolean()) {
      if (System.nanoTime() - end > 0) {
        throw new AssertionError("not within " + limit.toSeconds() + " s: " + what);
      }
      LockSupport.parkNanos(Duration.ofMillis(10).toNanos());
    }
  }

  /**
   * The same for what is true once everything that came in is committed: a quiet room would have it
   * wait for a minute.
   */
  public static void stored(
      Duration limit, String what, DashboardCore core, BooleanSupplier condition) {
    within(
        limit,
        what,
        () -> {
          core.commitSoon();
          return condition.getAsBoolean();
        });
  }
}
