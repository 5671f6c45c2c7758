package org.layroom.dashboard.cli;

import java.util.concurrent.CountDownLatch;

/** Keeps a command running until the process is told to end, then closes what it runs. */
final class UntilStopped {
  private UntilStopped() {}

  /** Waits for the end of the process; what is running is closed before it ends. */
  static void untilStopped(Runnable close) {
    CountDownLatch closed = new CountDownLatch(1);
    Runtime.getRuntime()
        .addShutdownHook(
            new Thread(
                () -> {
                  close.run();
                  closed.countDown();
                },
                "layroom-stop"));
    try {
      closed.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
