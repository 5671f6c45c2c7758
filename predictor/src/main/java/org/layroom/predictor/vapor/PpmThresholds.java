package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.EightHourDose;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.exposure.Styrene;

/**
 * The thresholds for an instrument that tells ppm as styrene, against the workplace limit that the
 * user chose. They hold in and out of a job alike.
 */
final class PpmThresholds {
  private static final double DOWN = 0.8;
  private static final double OK_SHARE = 0.5;
  private static final double TIMES_SHORT_TERM = 2;

  /** What a detector may show of the true air when its lamp has aged (this project's choice). */
  private static final double SHOWN_AT_LEAST = 0.75;

  /** Air below this share of the limit adds too little to be a reason by itself. */
  private static final double ADDS_FROM = 0.1;

  private final ExposureLimit limit;
  private final EightHourDose shift;
  private final Optional<Instant> jobUntil;
  private final Instant now;
  private final Optional<AirAverage> quarter;
  private final double quarterPpm;

  /** Where one minute is enough: twice the short-term limit, or danger as an old lamp shows it. */
  private final double minuteFrom;

  private final double minutePpm;

  /** What the minute's mean is without its highest reading: one may be wrong. */
  private final double surePpm;

  private final boolean pinned;

  PpmThresholds(
      SensorFeed feed,
      ExposureLimit limit,
      EightHourDose shift,
      Optional<Instant> jobUntil,
      Instant now) {
    this.limit = limit;
    this.shift = shift;
    this.jobUntil = jobUntil;
    this.now = now;
    minuteFrom =
        Math.min(
            TIMES_SHORT_TERM * limit.shortTermPpm(), SHOWN_AT_LEAST * LeaveLevels.dangerPpm(limit));
    quarter = feed.quarter().at(now);
    quarterPpm = quarter.map(AirAverage::value).orElse(feed.quarter().atLeast(now));
    minutePpm = feed.minute().at(now).map(AirAverage::value).orElse(0.0);
    surePpm = feed.minute().withoutPeak(now).map(AirAverage::value).orElse(0.0);
    pinned = feed.pinnedSince().isPresent();
  }

  CallReasons evidence() {
    double half = OK_SHARE * limit.eightHourPpm();
    double projected = projected();
    boolean covered = quarter.isPresent() && !pinned;
    return new CallReasons(
        leaveNow(),
        quarterPpm >= limit.shortTermPpm()
            ? List.of(quarterWords() + "; the short-term limit is " + limitWords(true))
            : List.of(),
        minutePpm >= limit.shortTermPpm()
            ? List.of(
                "The last minute: "
                    + ppm(minutePpm)
                    + "; the short-term limit is "
                    + limitWords(true))
            : List.of(),
        airing(projected, half),
        List.of(),
        covered
            && quarterPpm < DOWN * limit.shortTermPpm()
            && minutePpm < DOWN * minuteFrom
            && minutePpm < DOWN * Styrene.TENTH_OF_EXPLOSIVE_LIMIT_PPM,
        covered && quarterPpm < DOWN * half && !(projected >= DOWN * half && adds(DOWN)),
        covered && quarterPpm < half,
        quarter.isPresent(),
        minutePpm,
        List.of(quarterWords() + "."));
  }

  private List<String> leaveNow() {
    List<String> why = new ArrayList<>();
    if (pinned) {
      why.add(
          "The sensor is at the end of its range: at least "
              + ppm(minutePpm)
              + "; it cannot read"
              + " higher.");
    }
    if (surePpm >= Styrene.TENTH_OF_EXPLOSIVE_LIMIT_PPM) {
      why.add("The last minute: " + ppm(minutePpm) + ", a tenth of the explosive limit or more.");
    }
    if (surePpm >= TIMES_SHORT_TERM * limit.shortTermPpm()) {
      why.add(
          "The last minute: "
              + ppm(minutePpm)
              + "; twice the short-term limit, "
              + limitWords(true));
    } else if (surePpm >= minuteFrom) {
      why.add(
          "The last minute: "
              + ppm(minutePpm)
              + "; with a detector that reads a quarter low that is "
              + number(LeaveLevels.dangerPpm(limit))
              + " ppm, in which nobody may stay.");
    }
    return why;
  }

  private List<String> airing(double projected, double half) {
    List<String> why = new ArrayList<>();
    if (quarterPpm >= limit.eightHourPpm()) {
      why.add(quarterWords() + "; the eight-hour limit is " + limitWords(false));
    }
    if (projected >= half && adds(1)) {
      why.add(
          "If it stays like this, the eight-hour average will reach "
              + ppm(projected)
              + "; half of the limit is "
              + number(half)
              + " ppm.");
    }
    return why;
  }

  private boolean adds(double factor) {
    return quarterPpm >= factor * ADDS_FROM * limit.eightHourPpm();
  }

  /** The eight-hour average as it is, or as it will be at the end of the job: the higher one. */
  private double projected() {
    Duration left =
        jobUntil
            .filter(until -> until.isAfter(now))
            .map(until -> Duration.between(now, until))
            .filter(until -> until.compareTo(EightHourDose.LENGTH) < 0)
            .orElse(EightHourDose.LENGTH);
    double hours = left.toMillis() / 3_600_000.0;
    double ahead = shift.dose(now, EightHourDose.LENGTH.minus(left)) + quarterPpm * hours;
    return Math.max(shift.dose(now, EightHourDose.LENGTH), ahead) / EightHourDose.HOURS;
  }

  private String quarterWords() {
    boolean atLeast = pinned || quarter.map(AirAverage::atLeast).orElse(true);
    return "The last 15 min: " + (atLeast ? "at least " : "") + ppm(quarterPpm);
  }

  private String limitWords(boolean shortTerm) {
    return number(shortTerm ? limit.shortTermPpm() : limit.eightHourPpm())
        + " ppm ("
        + limit.setBy()
        + ").";
  }

  private static String ppm(double value) {
    return "about " + number(value) + " ppm as styrene, if there is no other vapor in the air";
  }

  private static String number(double value) {
    return String.format(Locale.ROOT, value < 10 ? "%.1f" : "%.0f", value);
  }
}
