package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.predictor.vapor.ChipAnswer;

/**
 * What a chip showed in a job beside what was predicted, minute by minute. It teaches only when the
 * vapor then fell as it does in a room that is aired: with the fan ticked and off a prediction
 * means nothing. Not for several threads.
 */
final class JobMinutes {
  /** The rise over clean air must have halved this soon after it was last near its highest. */
  private static final Duration HALVED_WITHIN = Duration.ofHours(1);

  private static final double NEAR_THE_HIGHEST = 0.9;
  private static final double HALVED = 0.5;
  private static final Duration A_MINUTE = Duration.ofMinutes(1);

  /** A job of this many minutes is long enough to learn from. */
  private static final int MOST = 12 * 60;

  private final List<ChipAnswer.Minute> minutes = new ArrayList<>();
  private Optional<Instant> newest = Optional.empty();
  private Optional<Instant> nearHighest = Optional.empty();
  private double highestRise;
  private boolean halved;

  /** Whether a minute has passed since the newest. */
  boolean due(Instant now) {
    return newest.filter(at -> now.isBefore(at.plus(A_MINUTE))).isEmpty();
  }

  /** Whether a job is kept. */
  boolean any() {
    return !minutes.isEmpty();
  }

  /** A minute in the job. */
  void plus(Instant time, ChipAnswer.Minute minute) {
    if (minutes.size() < MOST) {
      minutes.add(minute);
    }
    follow(time, minute.level());
  }

  /** A minute in the job or after it. */
  void follow(Instant time, double level) {
    newest = Optional.of(time);
    double rise = level - 1;
    if (rise >= NEAR_THE_HIGHEST * highestRise) {
      highestRise = Math.max(highestRise, rise);
      nearHighest = Optional.of(time);
      halved = false;
    } else if (rise <= HALVED * highestRise && !tooLate(time)) {
      halved = true;
    }
  }

  private boolean tooLate(Instant time) {
    return nearHighest.filter(at -> time.isAfter(at.plus(HALVED_WITHIN))).isPresent();
  }

  /** What the job teaches, once the vapor has fallen; the job is then forgotten. */
  Optional<ChipAnswer> taught() {
    if (!halved) {
      return Optional.empty();
    }
    Optional<ChipAnswer> answer = ChipAnswer.ofJob(minutes);
    forget();
    return answer;
  }

  /** Forgets the job when the vapor did not fall in time. */
  void forgetIfTooLate(Instant now) {
    if (tooLate(now)) {
      forget();
    }
  }

  /** Another job begins. */
  void forget() {
    minutes.clear();
    newest = Optional.empty();
    nearHighest = Optional.empty();
    highestRise = 0;
    halved = false;
  }
}
