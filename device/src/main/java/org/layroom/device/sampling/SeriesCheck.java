package org.layroom.device.sampling;

import java.time.Duration;
import org.layroom.device.telemetry.Quality;

/**
 * Judges one series of values by its own past: out of range, a jump that a room cannot make, or the
 * very same value for too long. The limits are this project's own choice, no authority.
 */
final class SeriesCheck {
  /** For a series that may stand still as long as it likes. */
  static final Duration NEVER = Duration.ofDays(36_500);

  /** Older neighbors say nothing about a jump. */
  private static final Duration NEIGHBOR = Duration.ofMinutes(2);

  /** Fewer equal values than this may be chance, however long apart. */
  private static final int FEWEST_EQUAL = 5;

  private final Limits limits;

  private double last = Double.NaN;
  private Duration lastAt = Duration.ZERO;
  private Duration sameSince = Duration.ZERO;
  private int equal;

  SeriesCheck(Limits limits) {
    this.limits = limits;
  }

  /**
   * What a series may do, in its own unit.
   *
   * @param lowest the sensor's own range, lower end
   * @param highest the sensor's own range, upper end
   * @param jump the largest believable step between neighbors
   * @param stuck how long the very same value is believable
   */
  record Limits(double lowest, double highest, double jump, Duration stuck, String unit) {}

  /** The quality of a value; a fault means that the value must not be used. */
  Quality judge(double value, Duration at) {
    if (!(value >= limits.lowest && value <= limits.highest)) {
      return Quality.fault(
          "out of the sensor's range, %s to %s %s"
              .formatted(plain(limits.lowest), plain(limits.highest), limits.unit));
    }
    double step = Math.abs(value - last);
    boolean jumped = step > limits.jump && at.minus(lastAt).compareTo(NEIGHBOR) <= 0;
    Duration same = remember(value, at);
    if (jumped) {
      return Quality.suspect("jumped by %.1f %s".formatted(step, limits.unit));
    }
    if (equal >= FEWEST_EQUAL && same.compareTo(limits.stuck) >= 0) {
      return Quality.suspect("stuck: the same value for %d min".formatted(same.toMinutes()));
    }
    return Quality.good();
  }

  /** How long the very same value has been seen by now. */
  private Duration remember(double value, Duration at) {
    if (Double.compare(value, last) == 0) {
      equal++;
    } else {
      equal = 1;
      sameSince = at;
    }
    last = value;
    lastAt = at;
    return at.minus(sameSince);
  }

  private static String plain(double value) {
    return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
  }
}
