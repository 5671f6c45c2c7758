package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.AirAverage;

/**
 * The thresholds for a metal-oxide chip, in times clean air: this project's own choice, with no
 * meaning for health. In the room of a job with fan and respirator a chip is expected to be full of
 * vapor, so there only a signal that is pinned and goes on rising, or twice the worst aired job,
 * asks to leave.
 */
final class ChipThresholds {
  static final double OK_BELOW = VocLevel.RISE_FROM;
  static final double VENTILATE_FROM = 3;
  static final double LEAVE_FROM = 8;
  static final double DOWN = 0.8;

  private static final double TIMES_WORST_JOB = 2;
  private static final Duration LEAP_COUNTS = Duration.ofMinutes(1);

  private final SensorFeed feed;
  private final VaporSensor.Chip chip;
  private final Optional<WatchedJob> quietJob;
  private final Instant now;
  private final Optional<AirAverage> quarter;
  private final double quarterLevel;
  private final double minuteLevel;
  private final boolean pinned;
  private final boolean leapt;

  ChipThresholds(
      SensorFeed feed, VaporSensor.Chip chip, Optional<WatchedJob> quietJob, Instant now) {
    this.feed = feed;
    this.chip = chip;
    this.quietJob = quietJob;
    this.now = now;
    quarter = feed.quarter().at(now);
    quarterLevel = quarter.map(AirAverage::value).orElse(feed.quarter().atLeast(now));
    minuteLevel = feed.minute().at(now).map(AirAverage::value).orElse(0.0);
    pinned = feed.pinnedSince().isPresent();
    leapt =
        feed.leapAt()
            .filter(at -> Duration.between(at, now).compareTo(LEAP_COUNTS) < 0)
            .isPresent();
  }

  CallReasons evidence() {
    List<String> urgent = urgent();
    boolean quiet = quietJob.isPresent();
    List<String> leaveNow = quiet ? urgentInAJob() : urgent;
    List<String> leave = !quiet && quarterLevel >= LEAVE_FROM ? List.of(quarterWords()) : List.of();
    boolean covered = quarter.isPresent();
    return new CallReasons(
        leaveNow,
        leave,
        quiet ? urgent : List.of(),
        airing(),
        quarterLevel >= OK_BELOW ? List.of(quarterWords()) : List.of(),
        covered && !pinned && !leapt && belowLeave(),
        covered && !pinned && !leapt && quarterLevel < DOWN * OK_BELOW,
        covered && !pinned && !leapt && quarterLevel < OK_BELOW,
        covered,
        minuteLevel,
        List.of(quarterWords()));
  }

  private boolean belowLeave() {
    double from = quietJob.isPresent() ? worstJob().orElse(Double.POSITIVE_INFINITY) : LEAVE_FROM;
    return minuteLevel < DOWN * from && (quietJob.isPresent() || quarterLevel < DOWN * from);
  }

  private List<String> urgent() {
    List<String> why = new ArrayList<>();
    if (pinned) {
      why.add(
          "The sensor is at the end of its range: at least "
              + level(minuteLevel)
              + "; it cannot read"
              + " higher.");
    }
    if (leapt) {
      why.add("The vapor jumped within one reading.");
    }
    if (minuteLevel >= LEAVE_FROM) {
      why.add("The last minute: " + level(minuteLevel) + ".");
    }
    return why;
  }

  private List<String> urgentInAJob() {
    List<String> why = new ArrayList<>();
    OptionalDouble worst = worstJob();
    if (worst.isPresent() && minuteLevel >= worst.getAsDouble()) {
      why.add(
          "The last minute: "
              + level(minuteLevel)
              + ", twice the highest of this room's ventilated jobs.");
    }
    if (pinned && lasting(feed.pinnedSince().orElse(now)) && airedForLong() && rising()) {
      why.add(
          "The sensor is at the end of its range and still rising although the room is ventilated.");
    }
    return why;
  }

  private boolean airedForLong() {
    return quietJob.filter(job -> lasting(job.start())).isPresent();
  }

  private boolean lasting(Instant since) {
    return Duration.between(since, now).compareTo(SensorFeed.LOOK_BACK) >= 0;
  }

  private OptionalDouble worstJob() {
    return chip.worstAiredJob().isPresent()
        ? OptionalDouble.of(
            Math.max(LEAVE_FROM, TIMES_WORST_JOB * chip.worstAiredJob().getAsDouble()))
        : OptionalDouble.empty();
  }

  private List<String> airing() {
    if (quarterLevel >= VENTILATE_FROM) {
      return List.of(quarterWords());
    }
    return quarterLevel >= OK_BELOW && rising()
        ? List.of(quarterWords(), "It has been rising for 10 min.")
        : List.of();
  }

  private boolean rising() {
    return feed.rising(now, minuteLevel);
  }

  private String quarterWords() {
    boolean atLeast = pinned || quarter.map(AirAverage::atLeast).orElse(true);
    return "The last 15 min: " + (atLeast ? "at least " : "") + level(quarterLevel) + ".";
  }

  private static String level(double value) {
    return String.format(Locale.ROOT, "%.1f times clean air, not a styrene measurement", value);
  }
}
