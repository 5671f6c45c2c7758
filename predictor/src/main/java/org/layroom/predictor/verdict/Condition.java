package org.layroom.predictor.verdict;

import java.time.Duration;
import java.util.Optional;
import org.layroom.predictor.limits.ShopLimits;

/**
 * One value that the check goes by.
 *
 * @param value in the unit of its place: degC or % relative humidity
 * @param age how old it is, where it was measured; empty where a person typed it
 */
public record Condition(double value, Optional<Duration> age) {
  public Condition {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("a condition must be a finite number, not " + value);
    }
    if (age.isPresent() && age.get().isNegative()) {
      age = Optional.of(Duration.ZERO);
    }
  }

  /** A value that a person typed just now. */
  public static Condition typed(double value) {
    return new Condition(value, Optional.empty());
  }

  /** A value that a sensor gave. */
  public static Condition measured(double value, Duration age) {
    return new Condition(value, Optional.of(age));
  }

  /** Whether it is too old to say anything about now: over 30 min. */
  public boolean stale() {
    return age.isPresent() && age.get().compareTo(ShopLimits.OLDEST_READING) > 0;
  }
}
