package org.layroom.predictor.vapor;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.limits.RangeCheck;

/**
 * From which level of a chip somebody must leave, in times clean air: this project's own choice,
 * with no meaning for health. Before anything is known of a chip it is the level that a weak one
 * shows in dangerous air; finished jobs raise it to what this chip is expected to show, within
 * bounds. Method and figures: predictor/ALARM.md.
 *
 * @param inJob while somebody works with fan and respirator on
 * @param outside at any other time
 */
public record LeaveLevels(double inJob, double outside) {
  /**
   * No level is learned below this, and it holds before a job was seen: three times the daily
   * wander of a quiet chip (1.1 times clean air). A chip that shows less in dangerous air cannot
   * tell it from a damp day.
   */
  public static final double LOWEST = 3.3;

  /** No level is learned above this: a chip as its data sheet's law, at 200 ppm. */
  public static final double HIGHEST = 400;

  /** One job alone raises a level no further: 0.3 a ppm, at 200 ppm. */
  public static final double HIGHEST_OF_ONE_JOB = 61;

  /** Before a job was seen. */
  public static final LeaveLevels FIRST = new LeaveLevels(LOWEST, LOWEST);

  /** Half of immediately dangerous (NIOSH, 700 ppm). */
  private static final double DANGER_PPM = 350;

  private static final double DANGER_TIMES_LIMIT = 10;

  /** A prediction may be off by two. */
  private static final double SURE = 0.5;

  /** Outside a job a minute is judged by twice the short-term limit, as a detector's is. */
  private static final double TIMES_SHORT_TERM = 2;

  private static final int JOBS_FOR_A_MEDIAN = 3;

  public LeaveLevels {
    RangeCheck.within("leave level in a job", inJob, LOWEST, HIGHEST, "times clean air");
    RangeCheck.within("leave level outside a job", outside, LOWEST, HIGHEST, "times clean air");
  }

  /**
   * What nobody may stay in, ppm of styrene: ten times the limit or 350 ppm, whichever is lower.
   */
  public static double dangerPpm(ExposureLimit limit) {
    return Math.min(DANGER_PPM, DANGER_TIMES_LIMIT * limit.eightHourPpm());
  }

  /**
   * What finished jobs teach: of one job at most 0.3 a ppm, of two the lower, of more the median,
   * so that one that was mistyped spoils nothing.
   *
   * @param answers of the newest jobs, by {@link ChipAnswer#ofJob}
   * @param limit the limit that was chosen
   */
  public static LeaveLevels learned(List<ChipAnswer> answers, ExposureLimit limit) {
    OptionalDouble inJob = typical(answers, SURE * dangerPpm(limit));
    OptionalDouble outside = typical(answers, SURE * TIMES_SHORT_TERM * limit.shortTermPpm());
    if (inJob.isEmpty() || outside.isEmpty()) {
      return FIRST;
    }
    double most = answers.size() == 1 ? HIGHEST_OF_ONE_JOB : HIGHEST;
    return new LeaveLevels(
        bounded(inJob.getAsDouble(), most), bounded(outside.getAsDouble(), most));
  }

  /**
   * From which mean of a quarter of an hour somebody must leave outside a job: the level at half of
   * the concentration that the minute's is at.
   */
  public double outsideOfAQuarter() {
    return Math.max(LOWEST, ChipAnswer.atHalf(outside));
  }

  private static double bounded(double level, double most) {
    return Math.max(LOWEST, Math.min(most, level));
  }

  private static OptionalDouble typical(List<ChipAnswer> answers, double ppm) {
    List<Double> levels = new ArrayList<>(answers.stream().map(one -> one.level(ppm)).toList());
    if (levels.isEmpty()) {
      return OptionalDouble.empty();
    }
    Collections.sort(levels);
    return OptionalDouble.of(
        levels.size() < JOBS_FOR_A_MEDIAN ? levels.get(0) : levels.get((levels.size() - 1) / 2));
  }
}
