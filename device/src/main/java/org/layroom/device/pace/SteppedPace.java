package org.layroom.device.pace;

import java.time.Duration;
import java.time.Instant;
import java.util.PriorityQueue;
import java.util.concurrent.locks.ReentrantLock;

/**
 * Time that stands still until it is told to go on: for replays and tests. Tasks run in the order
 * of their due times on the thread that moves the time, so a run gives the same result every time.
 */
public final class SteppedPace implements Pace {
  private final ReentrantLock turn = new ReentrantLock();
  private final Object state = new Object();
  private final PriorityQueue<Entry> queue = new PriorityQueue<>();
  private Duration uptime = Duration.ZERO;
  private Instant wallAtZero;
  private boolean wallClockSet = true;
  private boolean closed;
  private long entries;

  /** A pace that shows {@code start}. */
  public SteppedPace(Instant start) {
    this.wallAtZero = start;
  }

  /** Moves the time on and runs what falls due on the way, on the caller's thread. */
  public void advanceBy(Duration duration) {
    if (duration.isNegative()) {
      throw new IllegalArgumentException("time cannot go back by " + duration.negated());
    }
    Duration target;
    synchronized (state) {
      target = uptime.plus(duration);
    }
    advanceUptimeTo(target);
  }

  /**
   * Moves the time on until the wall clock shows {@code moment}.
   *
   * @throws IllegalArgumentException when that moment has passed
   */
  public void advanceTo(Instant moment) {
    Duration ahead;
    synchronized (state) {
      ahead = Duration.between(now(), moment);
    }
    if (ahead.isNegative()) {
      throw new IllegalArgumentException("time is " + now() + " and cannot go back to " + moment);
    }
    advanceBy(ahead);
  }

  /** Sets the wall clock apart from the running time, as a person or the network does. */
  public void setWallClock(Instant moment) {
    synchronized (state) {
      wallAtZero = moment.minus(uptime);
    }
  }

  /** Whether the wall clock counts as set from now on. */
  public void setWallClockSet(boolean set) {
    synchronized (state) {
      wallClockSet = set;
    }
  }

  @Override
  public Instant now() {
    synchronized (state) {
      return wallAtZero.plus(uptime);
    }
  }

  @Override
  public boolean wallClockSet() {
    synchronized (state) {
      return wallClockSet;
    }
  }

  @Override
  public Duration uptime() {
    synchronized (state) {
      return uptime;
    }
  }

  @Override
  public Scheduled every(Duration period, Runnable task) {
    return add(Periods.checked(period), period, task);
  }

  @Override
  public Scheduled after(Duration delay, Runnable task) {
    return add(delay.isNegative() ? Duration.ZERO : delay, Duration.ZERO, task);
  }

  /**
   * Moves the time on at once, without starting tasks: they are run, late, by whoever moves the
   * time next. So a driver that waits for a chip inside a task needs no second thread.
   */
  @Override
  public void pause(Duration duration) throws InterruptedException {
    if (Thread.interrupted()) {
      throw new InterruptedException();
    }
    synchronized (state) {
      if (!duration.isNegative()) {
        uptime = uptime.plus(duration);
      }
    }
  }

  @Override
  public void close() {
    synchronized (state) {
      closed = true;
      queue.clear();
    }
  }

  private Scheduled add(Duration delay, Duration period, Runnable task) {
    synchronized (state) {
      Entry entry = new Entry(uptime.plus(delay), entries++, period, task);
      if (!closed) {
        queue.add(entry);
      }
      return () -> {
        synchronized (state) {
          entry.canceled = true;
          queue.remove(entry);
        }
      };
    }
  }

  private void advanceUptimeTo(Duration target) {
    if (turn.isHeldByCurrentThread()) {
      throw new IllegalStateException("a task of this pace cannot move its time; use pause");
    }
    turn.lock();
    try {
      for (Entry due = next(target); due.runs(); due = next(target)) {
        TaskThread.run(due.task);
        again(due);
      }
    } finally {
      turn.unlock();
    }
  }

  private Entry next(Duration target) {
    synchronized (state) {
      Entry first = queue.peek();
      if (first == null || first.due.compareTo(target) > 0) {
        uptime = later(uptime, target);
        return Entry.NONE;
      }
      queue.remove(first);
      uptime = later(uptime, first.due);
      return first;
    }
  }

  private void again(Entry entry) {
    synchronized (state) {
      if (!entry.period.isZero() && !entry.canceled && !closed) {
        entry.due = entry.due.plus(entry.period);
        queue.add(entry);
      }
    }
  }

  private static Duration later(Duration a, Duration b) {
    return a.compareTo(b) >= 0 ? a : b;
  }

  private static final class Entry implements Comparable<Entry> {
    static final Entry NONE = new Entry(Duration.ZERO, -1, Duration.ZERO, () -> {});
    private final long number;
    private final Duration period;
    private final Runnable task;
    private Duration due;
    private boolean canceled;

    Entry(Duration due, long number, Duration period, Runnable task) {
      this.due = due;
      this.number = number;
      this.period = period;
      this.task = task;
    }

    boolean runs() {
      return number >= 0;
    }

    @Override
    public int compareTo(Entry other) {
      int byTime = due.compareTo(other.due);
      return byTime != 0 ? byTime : Long.compare(number, other.number);
    }
  }
}
