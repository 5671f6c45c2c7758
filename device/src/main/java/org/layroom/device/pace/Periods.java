package org.layroom.device.pace;

import java.time.Duration;

/** Refuses periods that would run without end. */
final class Periods {
  private Periods() {}

  static Duration checked(Duration period) {
    if (period.isZero() || period.isNegative()) {
      throw new IllegalArgumentException("period " + period + " must be longer than zero");
    }
    return period;
  }
}
