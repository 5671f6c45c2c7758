package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/** Where the alarm's memory outlasts a restart. */
public interface AlarmStore extends AutoCloseable {
  /**
   * What was kept.
   *
   * @param at by the wall clock that the memory's times are told by
   * @param atBelieved whether that clock was set then
   * @param age how long ago; empty where nobody can tell
   */
  record Recorded(AlarmMemory memory, Instant at, boolean atBelieved, Optional<Duration> age) {}

  /** What was kept before the last stop; empty when nothing was, or when it cannot be read. */
  Optional<Recorded> recall();

  /**
   * Keeps this instead of what was; waits for nothing.
   *
   * @param at now by the wall clock
   * @param atBelieved whether that clock is set
   */
  void keep(AlarmMemory memory, Instant at, boolean atBelieved);

  /** Waits until the newest is kept. */
  @Override
  void close();

  /** Keeps nothing. */
  static AlarmStore none() {
    return new AlarmStore() {
      @Override
      public Optional<Recorded> recall() {
        return Optional.empty();
      }

      @Override
      public void keep(AlarmMemory memory, Instant at, boolean atBelieved) {}

      @Override
      public void close() {}
    };
  }
}
