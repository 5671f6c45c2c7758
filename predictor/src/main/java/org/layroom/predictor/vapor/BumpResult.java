package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import org.layroom.predictor.limits.RangeCheck;

/**
 * What came of a bump test.
 *
 * @param time when it was through
 * @param passed the sensor rose as much and as fast as it must
 * @param before the level before: times clean air, or ppm as styrene
 * @param highest the highest level
 * @param took from the first sign of the rise until it was there; of a test that failed, how long
 *     was waited
 */
public record BumpResult(
    Instant time, boolean passed, double before, double highest, Duration took) {
  public BumpResult {
    RangeCheck.within("level before the test", before, 0, 1e30, "");
    RangeCheck.within("highest level of the test", highest, 0, 1e30, "");
  }

  /**
   * In words.
   *
   * @param ppm the levels are ppm as styrene, not times clean air
   */
  public String words(boolean ppm) {
    String unit = ppm ? " ppm as styrene" : " times clean air";
    String rise = String.format(Locale.ROOT, "from %.1f to %.1f%s", before, highest, unit);
    return passed
        ? "Passed: " + rise + " in " + Math.max(1, took.toSeconds()) + " s."
        : "Failed: " + rise + " at most, too little or too slow.";
  }

  /** The same at the same moment of another clock. */
  public BumpResult at(Instant when) {
    return new BumpResult(when, passed, before, highest, took);
  }
}
