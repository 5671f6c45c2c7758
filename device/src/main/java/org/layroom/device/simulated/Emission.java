package org.layroom.device.simulated;

/**
 * Vapor given off by one simulated layup: half while it is rolled out, half afterward, ever slower.
 * Invented, of the size that a small layup gives.
 *
 * @param startSeconds on the shop's own clock
 * @param grams given off in all
 */
record Emission(double startSeconds, double grams) {
  private static final double ROLLING_SECONDS = 25 * 60;
  private static final double FADING_SECONDS = 30 * 60;
  private static final double AIRED_SECONDS = 150 * 60;

  /** Grams a second at a moment. */
  double rate(double seconds) {
    double age = seconds - startSeconds;
    if (age < 0) {
      return 0;
    }
    if (age < ROLLING_SECONDS) {
      return grams / 2 / ROLLING_SECONDS;
    }
    return grams / 2 / FADING_SECONDS * Math.exp(-(age - ROLLING_SECONDS) / FADING_SECONDS);
  }

  /** Whether somebody keeps the fan on for it. */
  boolean aired(double seconds) {
    double age = seconds - startSeconds;
    return age >= 0 && age < AIRED_SECONDS;
  }

  /** The warmth of curing, felt by the mold, W for its weight: a small hump after gelling. */
  double warmth(double seconds) {
    double peak = (seconds - startSeconds - 70 * 60) / (20 * 60);
    return Math.exp(-peak * peak);
  }
}
