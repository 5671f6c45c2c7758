package org.layroom.device.sampling;

import java.util.Optional;

/**
 * The clean-air reading that a device goes by: the newest of those it was given, whoever gave them.
 * Safe for several threads.
 */
public final class CurrentCleanAir {
  private Optional<CleanAir> newest;

  /** Begins with what the settings file says. */
  public CurrentCleanAir(Optional<CleanAir> first) {
    newest = first;
  }

  /** The reading to go by; empty before there was one. */
  public synchronized Optional<CleanAir> newest() {
    return newest;
  }

  /** Takes a reading when it was taken later than the one known; says whether it was. */
  public synchronized boolean offer(CleanAir reading) {
    boolean newer = newest.filter(known -> !reading.taken().isAfter(known.taken())).isEmpty();
    if (newer) {
      newest = Optional.of(reading);
    }
    return newer;
  }
}
