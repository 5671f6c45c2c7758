package org.layroom.device.publishing;

import java.time.Duration;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.Condition;
import java.util.concurrent.locks.ReentrantLock;
import java.util.function.BooleanSupplier;

/** What other threads may wait for: a broker, room for more, or a moved mark. */
final class SendGate {
  private final ReentrantLock lock = new ReentrantLock();
  private final Condition news = lock.newCondition();
  private boolean open;
  private int waiting;

  void opened(boolean now) {
    lock.lock();
    try {
      open = now;
      news.signalAll();
    } finally {
      lock.unlock();
    }
  }

  void moreWaiting(int more) {
    lock.lock();
    try {
      waiting += more;
      news.signalAll();
    } finally {
      lock.unlock();
    }
  }

  void changed() {
    moreWaiting(0);
  }

  boolean open() {
    lock.lock();
    try {
      return open;
    } finally {
      lock.unlock();
    }
  }

  int waiting() {
    lock.lock();
    try {
      return waiting;
    } finally {
      lock.unlock();
    }
  }

  /** Waits until a condition holds, or for a real time at most; says whether it holds. */
  boolean await(Duration patience, BooleanSupplier condition) throws InterruptedException {
    long left = patience.toNanos();
    lock.lock();
    try {
      while (!condition.getAsBoolean()) {
        if (left <= 0) {
          return false;
        }
        left = news.awaitNanos(Math.min(left, TimeUnit.DAYS.toNanos(1)));
      }
      return true;
    } finally {
      lock.unlock();
    }
  }
}
