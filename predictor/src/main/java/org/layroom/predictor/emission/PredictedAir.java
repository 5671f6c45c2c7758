package org.layroom.predictor.emission;

import java.time.Duration;

/**
 * Predicted styrene in one place. Estimates: a factor of two either way or worse.
 *
 * @param peakPpm the largest value, ppm
 * @param peakAfter when, from the start of the layup
 * @param max15MinPpm the largest mean of any 15 min, ppm
 * @param twa8hPpm the mean of the eight hours from the start, ppm, with 8 as the divisor
 */
public record PredictedAir(
    double peakPpm, Duration peakAfter, double max15MinPpm, double twa8hPpm) {
  private static final double EIGHT_HOURS = 8;

  static PredictedAir of(BoxModel course) {
    return new PredictedAir(
        course.peak(),
        hours(course.peakHours()),
        course.largestQuarterHourMean(),
        course.dose(EIGHT_HOURS) / EIGHT_HOURS);
  }

  static Duration hours(double hours) {
    return Duration.ofMillis(Math.round(hours * 3_600_000));
  }
}
