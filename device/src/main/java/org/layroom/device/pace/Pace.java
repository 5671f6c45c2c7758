package org.layroom.device.pace;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * Wall time, monotonic time and scheduling behind one interface, so that a room can run in real
 * time, sped up, or step by step, with every clock in it telling the same story.
 */
public interface Pace extends AutoCloseable {

  /** The wall clock of this pace. It may jump in either direction: a Pi has no battery clock. */
  Instant now();

  /** Whether the wall clock can be believed (set by the network, or part of a simulation). */
  boolean wallClockSet();

  /** When the network last set the wall clock, by that clock; empty where nobody can tell. */
  default Optional<Instant> wallClockSetAt() {
    return Optional.empty();
  }

  /** Time since this pace was made. Never runs backward, never jumps with the wall clock. */
  Duration uptime();

  /**
   * Runs a task again and again, first after one period. Runs of one pace never overlap; a task
   * that throws is logged and called again at its next turn.
   *
   * @param period time on this pace between two starts, greater than zero
   */
  Scheduled every(Duration period, Runnable task);

  /** Runs a task once, after a delay on this pace (zero or more). */
  Scheduled after(Duration delay, Runnable task);

  /**
   * Waits on the caller's thread for a time on this pace, as a driver does for a chip's conversion.
   *
   * @throws InterruptedException when the waiting thread is told to stop
   */
  void pause(Duration duration) throws InterruptedException;

  /** Stops all tasks of this pace. */
  @Override
  void close();

  /** A task that was scheduled and can be called off. */
  interface Scheduled {
    /** The task is not started again. A run under way ends by itself. */
    void cancel();
  }
}
