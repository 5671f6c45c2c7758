package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.OptionalDouble;
import org.layroom.predictor.limits.RangeCheck;

/**
 * What a VOC chip read in this room's clean air, taken on purpose, with its date and conditions. It
 * is asked for again after a week and says nothing after a month; nothing ever learns it by itself.
 *
 * @param ticks the raw signal, 1 to 65534 ticks
 * @param taken when
 * @param temperatureC of the air then, where known
 * @param humidityPct of the air then, where known
 */
public record CleanAirReading(
    double ticks, Instant taken, OptionalDouble temperatureC, OptionalDouble humidityPct) {
  /** From this age it is asked for again (this project's choice). */
  public static final Duration ASKED_AGAIN = Duration.ofDays(7);

  /** From this age the air is unknown (this project's choice). */
  public static final Duration UNKNOWN_FROM = Duration.ofDays(30);

  /** A drift by this is a reason to take it again, ticks (this project's choice). */
  public static final double DRIFT_TICKS = 400;

  public CleanAirReading {
    RangeCheck.within("clean-air reading", ticks, 1, 65_534, "ticks");
  }

  /** A reading without its conditions. */
  public static CleanAirReading of(double ticks, Instant taken) {
    return new CleanAirReading(ticks, taken, OptionalDouble.empty(), OptionalDouble.empty());
  }

  /** Whether it is too old to say anything. */
  boolean staleAt(Instant now) {
    return age(now).compareTo(UNKNOWN_FROM) >= 0;
  }

  /** Whether it is time to take it again. */
  boolean dueAt(Instant now) {
    return age(now).compareTo(ASKED_AGAIN) >= 0;
  }

  Duration age(Instant now) {
    return Duration.between(taken, now);
  }
}
