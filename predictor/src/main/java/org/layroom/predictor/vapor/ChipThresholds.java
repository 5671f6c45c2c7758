package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.predictor.exposure.AirAverage;

/**
 * The thresholds for a metal-oxide chip, in times clean air: this project's own choice, with no
 * meaning for health. Ventilate comes first, on the minute's mean; leave has the level of {@link
 * LeaveLevels}, one in a job with fan and respirator and one outside. A chip at its end is leave.
 */
final class ChipThresholds {
  static final double OK_BELOW = VocLevel.RISE_FROM;
  static final double VENTILATE_FROM = 3;
  static final double DOWN = 0.8;

  private static final Duration LEAP_COUNTS = Duration.ofMinutes(1);

  private final SensorFeed feed;
  private final double leaveFrom;

  /** The same of the mean of a quarter of an hour. */
  private final double quarterLeaveFrom;

  private final Instant now;
  private final Optional<AirAverage> quarter;
  private final double quarterLevel;
  private final double minuteLevel;
  private final boolean pinned;
  private final boolean leapt;

  /**
   * Of one moment.
   *
   * @param quietJob a job with fan and respirator on is under way here
   */
  ChipThresholds(SensorFeed feed, VaporSensor.Chip chip, boolean quietJob, Instant now) {
    this.feed = feed;
    this.now = now;
    leaveFrom = quietJob ? chip.leave().inJob() : chip.leave().outside();
    quarterLeaveFrom = quietJob ? leaveFrom : chip.leave().outsideOfAQuarter();
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
    boolean covered = quarter.isPresent();
    boolean trusted = covered && !pinned && !leapt;
    return new CallReasons(
        atItsEnd(),
        leaving(),
        minuteLevel >= VENTILATE_FROM ? List.of(minuteWords()) : List.of(),
        airing(),
        quarterLevel >= OK_BELOW ? List.of(quarterWords()) : List.of(),
        trusted && minuteLevel < DOWN * leaveFrom && quarterLevel < DOWN * quarterLeaveFrom,
        trusted && quarterLevel < DOWN * OK_BELOW,
        trusted && quarterLevel < OK_BELOW,
        covered,
        minuteLevel,
        List.of(quarterWords()));
  }

  /** A puff that is gone by the newest reading is no reason. */
  private List<String> leaving() {
    double newest = feed.newest().map(SensorFeed.Newest::level).orElse(0.0);
    if (minuteLevel >= leaveFrom && newest >= DOWN * leaveFrom) {
      return List.of(minuteWords());
    }
    return quarterLevel >= quarterLeaveFrom && newest >= quarterLeaveFrom
        ? List.of(quarterWords())
        : List.of();
  }

  private List<String> atItsEnd() {
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
    return why;
  }

  private List<String> airing() {
    if (quarterLevel >= VENTILATE_FROM) {
      return List.of(quarterWords());
    }
    return quarterLevel >= OK_BELOW && feed.rising(now, minuteLevel)
        ? List.of(quarterWords(), "It has been rising for 10 min.")
        : List.of();
  }

  private String minuteWords() {
    return "The last minute: " + (pinned ? "at least " : "") + level(minuteLevel) + ".";
  }

  private String quarterWords() {
    boolean atLeast = pinned || quarter.map(AirAverage::atLeast).orElse(true);
    return "The last 15 min: " + (atLeast ? "at least " : "") + level(quarterLevel) + ".";
  }

  private static String level(double value) {
    return String.format(Locale.ROOT, "%.1f times clean air, not a styrene measurement", value);
  }
}
