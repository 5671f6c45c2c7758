package org.layroom.device.demo;

import java.time.Duration;
import java.time.ZoneId;

/**
 * What the demo shows.
 *
 * @param samplePeriod time on the demo's pace between two samples, longer than zero
 * @param past how much of an invented past is filled in before the start, zero or more
 * @param zone where the shop's evenings and weekends are
 * @param seed the same seed gives the same noise
 */
public record DemoStory(Duration samplePeriod, Duration past, ZoneId zone, long seed) {
  private static final Duration LONGEST_PAST = Duration.ofDays(30);

  public DemoStory {
    if (samplePeriod.isZero() || samplePeriod.isNegative()) {
      throw new IllegalArgumentException("sample period " + samplePeriod + " must be above zero");
    }
    if (past.isNegative() || past.compareTo(LONGEST_PAST) > 0) {
      throw new IllegalArgumentException("past of " + past + " must be 0 to 30 days");
    }
  }

  /** A sample every ten seconds, and two days of past. */
  public static DemoStory usual(ZoneId zone) {
    return new DemoStory(Duration.ofSeconds(10), Duration.ofDays(2), zone, 1);
  }
}
