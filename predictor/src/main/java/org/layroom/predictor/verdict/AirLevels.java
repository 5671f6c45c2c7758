package org.layroom.predictor.verdict;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.predictor.fumes.AirAverage;
import org.layroom.predictor.fumes.AirSample;
import org.layroom.predictor.fumes.RollingAverage;
import org.layroom.predictor.verdict.AirState.Kind;

/**
 * The state of the air for the mix check, from levels in times clean air: the mean of the last 15
 * min, and of the last minute so that a burst is not averaged away. The thresholds are this
 * project's own choice and have no health meaning.
 *
 * <p>Immutable: {@link #plus} gives the next state.
 */
public final class AirLevels {
  /** Mean of 15 min from which the room is to be aired before mixing, times clean air. */
  public static final double VENTILATE_FROM = 2;

  /** Mean of 15 min or of one minute from which nobody should stay, times clean air. */
  public static final double LEAVE_FROM = 8;

  private static final Duration BURST = Duration.ofSeconds(60);

  private final RollingAverage quarter;
  private final RollingAverage minute;

  private final Instant newest;

  private AirLevels(RollingAverage quarter, RollingAverage minute, Instant newest) {
    this.quarter = quarter;
    this.minute = minute;
    this.newest = newest;
  }

  /** Nothing measured yet. */
  public static AirLevels none() {
    return new AirLevels(RollingAverage.shortTerm(), RollingAverage.over(BURST), Instant.MIN);
  }

  /** With one more level; one that is not newer than the newest changes nothing. */
  public AirLevels plus(AirSample level) {
    return new AirLevels(
        quarter.plus(level),
        minute.plus(level),
        level.time().isAfter(newest) ? level.time() : newest);
  }

  /**
   * The state of the air now.
   *
   * @param now the room's time; a level from a clock that is a little ahead counts as of now
   */
  public AirState at(Instant now) {
    return judged(now.isBefore(newest) ? newest : now);
  }

  private AirState judged(Instant now) {
    Optional<AirAverage> quarterMean = quarter.at(now);
    Optional<AirAverage> minuteMean = minute.at(now);
    if (minuteMean.filter(mean -> mean.value() >= LEAVE_FROM).isPresent()) {
      return AirState.of(Kind.LEAVE, "over the last minute", minuteMean.get().value());
    }
    if (quarterMean.isEmpty()) {
      return AirState.of(Kind.UNKNOWN, "fewer than 12 of the last 15 min were measured");
    }
    double mean = quarterMean.get().value();
    Kind kind = mean >= LEAVE_FROM ? Kind.LEAVE : mean >= VENTILATE_FROM ? Kind.VENTILATE : Kind.OK;
    return AirState.of(kind, "mean of the last 15 min", mean);
  }
}
