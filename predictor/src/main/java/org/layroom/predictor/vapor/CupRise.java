package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.OptionalDouble;
import org.layroom.predictor.limits.RangeCheck;

/**
 * The rise that a mixed cup must bring: styrene leaves every open cup, and a sensor that shows none
 * of it may no longer sense any. Where so little is predicted that none could be seen, nothing is
 * expected. The figures are this project's own choice. Immutable.
 *
 * @param mixed when the cup was mixed
 * @param lowest the lowest minute's mean since, times clean air or ppm; empty before one was
 * @param predictedPpm the highest styrene predicted since; empty where nobody can predict
 * @param risen a rise was seen
 */
public record CupRise(
    Instant mixed, OptionalDouble lowest, OptionalDouble predictedPpm, boolean risen) {
  /** A rise is waited for so long. */
  public static final Duration WAITED = Duration.ofMinutes(15);

  /** From a cup of so much material on a rise is expected, g. */
  public static final double LEAST_GRAMS = 100;

  /** Less than this predicted may go unseen, ppm. */
  private static final double LEAST_PPM = 10;

  /** Over the lowest level since the cup: about 330 ticks of a chip, more than it wanders. */
  private static final double RISE = 1.3;

  private static final double RISE_PPM = 2;

  public CupRise {
    if (lowest.isPresent()) {
      RangeCheck.within("level", lowest.getAsDouble(), 0, 1e30, "");
    }
  }

  /** A cup was mixed just now. */
  public static CupRise of(Instant mixed) {
    return new CupRise(mixed, OptionalDouble.empty(), OptionalDouble.empty(), false);
  }

  /** A minute later: its mean, times clean air or ppm as styrene. */
  public CupRise level(VaporSensor sensor, double level) {
    double least = lowest.isPresent() ? Math.min(lowest.getAsDouble(), level) : level;
    boolean up =
        sensor instanceof VaporSensor.Pid
            ? level >= least + RISE_PPM
            : level >= RISE * least || level >= VocLevel.RISE_FROM;
    return new CupRise(mixed, OptionalDouble.of(least), predictedPpm, risen || up);
  }

  /** What is predicted for the room now. */
  public CupRise predicted(double ppm) {
    double most = predictedPpm.isPresent() ? Math.max(predictedPpm.getAsDouble(), ppm) : ppm;
    return new CupRise(mixed, lowest, OptionalDouble.of(most), risen);
  }

  /** Whether nothing more is waited for. */
  public boolean over(Instant now) {
    return risen || !now.isBefore(mixed.plus(WAITED));
  }

  /** Whether a rise was due and none was seen; a sensor that told nothing missed nothing. */
  public boolean missed(Instant now) {
    boolean expected = predictedPpm.isEmpty() || predictedPpm.getAsDouble() >= LEAST_PPM;
    return over(now) && !risen && expected && lowest.isPresent();
  }
}
