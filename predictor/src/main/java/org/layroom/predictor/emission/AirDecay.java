package org.layroom.predictor.emission;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.limits.RangeCheck;

/**
 * How well a room airs, from the fall of the vapor after a job: {@code ln(C - background)} is
 * regressed on time, and the slope is the air changes per hour (ASTM E741, concentration decay).
 * Accepted only when the source has stopped, doors and fan were left alone, and the points lie on a
 * line; a refusal says which of these is missing.
 *
 * @param perHour air changes per hour that count, as the room mixes its air
 * @param r2 how well the points lie on the line, 0 to 1
 * @param points how many were used
 * @param calibrated true for ppm; a level in times clean air carries an unknown constant factor, so
 *     that it only compares this room's days with one another
 */
public record AirDecay(double perHour, double r2, int points, boolean calibrated) {
  static final int FEWEST_POINTS = 10;
  static final double LEAST_DROP = 2;
  static final double LEAST_R2 = 0.95;

  /** What is needed for a value, and what is in the way of one. */
  public sealed interface Result {
    /** The value. */
    record Accepted(AirDecay decay) implements Result {}

    /** What is in the way, for the person in the shop; at least one. */
    record Refused(List<String> reasons) implements Result {
      public Refused {
        reasons = List.copyOf(reasons);
      }
    }
  }

  /**
   * What was done during the fall.
   *
   * @param background what the air reads when it is clean: 1 for a level in times clean air
   * @param calibrated whether the samples are ppm
   * @param sourceStopped all has gelled and every can is shut
   * @param leftAlone doors and fan were not touched
   */
  public record Circumstances(
      double background, boolean calibrated, boolean sourceStopped, boolean leftAlone) {
    public Circumstances {
      RangeCheck.within("background", background, 0, 1e6, "ppm or times clean air");
    }
  }

  /** The air changes from the fall, or why there are none. */
  public static Result of(List<AirSample> samples, Circumstances circumstances) {
    List<String> reasons = new ArrayList<>();
    if (!circumstances.sourceStopped()) {
      reasons.add(
          "Something still gives off vapor. Wait until everything has gelled and the cans are"
              + " shut.");
    }
    if (!circumstances.leftAlone()) {
      reasons.add(
          "The door or the fan was changed during this time. Leave both alone and try again.");
    }
    List<AirSample> above =
        samples.stream()
            .filter(one -> one.value() > circumstances.background())
            .sorted(Comparator.comparing(AirSample::time))
            .toList();
    if (above.size() < FEWEST_POINTS) {
      reasons.add(
          "Only " + above.size() + " readings above clean air; " + FEWEST_POINTS + " are needed.");
      return new Result.Refused(reasons);
    }
    Line line = Line.through(above, circumstances.background());
    if (line.drop() < LEAST_DROP) {
      reasons.add("The vapor has not yet fallen to half. Wait longer.");
    }
    if (!(line.slope() < 0) || line.r2() < LEAST_R2) {
      reasons.add("The vapor did not fall evenly. Something else changed the air.");
    }
    return reasons.isEmpty()
        ? new Result.Accepted(
            new AirDecay(-line.slope(), line.r2(), above.size(), circumstances.calibrated()))
        : new Result.Refused(reasons);
  }

  public AirDecay {
    RangeCheck.positive("air changes", perHour, 1e6, "per hour");
  }

  /** The time in which half of the vapor is gone. */
  public Duration halfTime() {
    return PredictedAir.hours(StrictMath.log(2) / perHour);
  }

  /**
   * The time from one level down to another, both above the background; this room's mixing is
   * already in the measured figure.
   */
  public Duration timeToClear(double fromAboveBackground, double toAboveBackground) {
    return PredictedAir.hours(
        hoursToClear(perHour, 1, fromAboveBackground, toAboveBackground).orElseThrow());
  }

  /** How many times as fast as another day, or as before the door was opened or the fan run. */
  public double timesAsFastAs(AirDecay other) {
    return perHour / other.perHour;
  }

  /** The figure in words; without a calibrated sensor only a comparison between days. */
  public String words() {
    return calibrated
        ? String.format(
            Locale.ROOT,
            "About %.1f air changes per hour; half the vapor is gone after %d min.",
            perHour,
            halfTime().toMinutes())
        : "Half the rise is gone after about %d min. Use this only to compare days in this room: the sensor does not measure styrene."
            .formatted(halfTime().toMinutes());
  }

  /**
   * {@code K (V/Q) ln(C1/C2)}, hours; zero when it is already there, empty where no air is changed.
   *
   * @param perHour air changes per hour, zero or more
   * @param mixing K, 1 to 10
   * @param from the level now, above 0
   * @param to the level wanted, above 0
   */
  public static OptionalDouble hoursToClear(double perHour, double mixing, double from, double to) {
    RangeCheck.within("air changes", perHour, 0, AirChanges.MOST_PER_HOUR, "per hour");
    RangeCheck.within("mixing", mixing, 1, 10, "");
    RangeCheck.positive("level now", from, 1e6, "");
    RangeCheck.positive("level wanted", to, 1e6, "");
    if (from <= to) {
      return OptionalDouble.of(0);
    }
    return perHour == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(mixing * StrictMath.log(from / to) / perHour);
  }

  /** Least squares of ln(C - background) on hours. */
  private record Line(double slope, double intercept, double r2, double hours) {
    static Line through(List<AirSample> samples, double background) {
      Instant start = samples.get(0).time();
      double meanT = 0;
      double meanY = 0;
      double last = 0;
      for (AirSample sample : samples) {
        last = hours(start, sample);
        meanT += last / samples.size();
        meanY += StrictMath.log(sample.value() - background) / samples.size();
      }
      double tt = 0;
      double ty = 0;
      double yy = 0;
      for (AirSample sample : samples) {
        double t = hours(start, sample) - meanT;
        double y = StrictMath.log(sample.value() - background) - meanY;
        tt += t * t;
        ty += t * y;
        yy += y * y;
      }
      double slope = tt == 0 ? 0 : ty / tt;
      double r2 = tt == 0 || yy == 0 ? 0 : ty * ty / (tt * yy);
      return new Line(slope, meanY - slope * meanT, r2, last);
    }

    private static double hours(Instant start, AirSample sample) {
      return Duration.between(start, sample.time()).toMillis() / 3_600_000.0;
    }

    /** The factor by which the line falls over the readings. */
    double drop() {
      return StrictMath.exp(-slope * hours);
    }
  }
}
