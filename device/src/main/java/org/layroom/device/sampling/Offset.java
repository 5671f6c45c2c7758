package org.layroom.device.sampling;

import java.time.LocalDate;
import java.util.Locale;

/**
 * What a sensor was found to be off by, beside a reference thermometer.
 *
 * @param amount what is added to its value: reference minus sensor, in the value's unit, -10 to 10
 * @param taken the day of the comparison
 */
public record Offset(double amount, LocalDate taken) {
  /** A sensor that is off by more is broken or in the wrong place. */
  public static final double MOST = 10;

  public Offset {
    if (!(Math.abs(amount) <= MOST)) {
      throw new IllegalArgumentException(
          "offset " + amount + ": must be from -10 to 10; a sensor that is off by more is faulty");
    }
  }

  /** Such as {@code -0.40 of 2026-03-01}. */
  public String words() {
    return String.format(Locale.ROOT, "%+.2f of %s", amount, taken);
  }
}
