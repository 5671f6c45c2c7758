package org.layroom.predictor.exposure;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * The time-weighted mean of the last quarter of an hour (or another window), reading by reading. A
 * reading holds until the next one; a gap over 90 s is missing time, and a window of which less
 * than 80 % is covered has no value. Immutable: {@link #plus} gives the next state, so that the
 * same numbers come out of a live feed and of a replay.
 */
public final class RollingAverage {
  /** The window of a short-term limit. */
  public static final Duration SHORT_TERM = Duration.ofMinutes(15);

  /** The longest time for which one reading stands. */
  public static final Duration LONGEST_GAP = Duration.ofSeconds(90);

  /** The least part of a window that must be covered. */
  public static final double LEAST_COVERAGE = 0.8;

  private final Duration window;
  private final List<AirSample> samples;

  private RollingAverage(Duration window, List<AirSample> samples) {
    this.window = window;
    this.samples = samples;
  }

  /** An empty average over a quarter of an hour. */
  public static RollingAverage shortTerm() {
    return over(SHORT_TERM);
  }

  /**
   * An empty average over a window of this length.
   *
   * @param window above zero
   */
  public static RollingAverage over(Duration window) {
    if (window.isZero() || window.isNegative()) {
      throw new IllegalArgumentException("window " + window + " must be longer than zero");
    }
    return new RollingAverage(window, List.of());
  }

  /**
   * The average with one more reading. A reading that is not newer than the newest is ignored: old
   * readings do not change what was known.
   */
  public RollingAverage plus(AirSample sample) {
    if (!samples.isEmpty() && !sample.time().isAfter(newest().time())) {
      return this;
    }
    Instant oldestNeeded = sample.time().minus(window).minus(LONGEST_GAP);
    List<AirSample> kept = new ArrayList<>(samples.size() + 1);
    for (AirSample earlier : samples) {
      if (!earlier.time().isBefore(oldestNeeded)) {
        kept.add(earlier);
      }
    }
    kept.add(sample);
    return new RollingAverage(window, kept);
  }

  /**
   * The mean over the window that ends at {@code now}; empty when less than 80 % of it is covered.
   *
   * @param now not before the newest reading
   */
  public Optional<AirAverage> at(Instant now) {
    if (samples.isEmpty()) {
      return Optional.empty();
    }
    ExposureHistory history = ExposureHistory.of(samples, now);
    AirAverage mean = history.mean(now.minus(window), now);
    return coverage(mean.covered()) < LEAST_COVERAGE ? Optional.empty() : Optional.of(mean);
  }

  /**
   * The mean over the window in which no reading counts for more than the next highest does, so
   * that a single wrong one moves nothing; empty when less than 80 % of the window is covered.
   *
   * @param now not before the newest reading
   */
  public Optional<AirAverage> withoutPeak(Instant now) {
    Instant from = now.minus(window);
    int first = 0;
    while (first + 1 < samples.size() && !samples.get(first + 1).time().isAfter(from)) {
      first++;
    }
    List<AirSample> counted = samples.subList(first, samples.size());
    double most =
        counted.stream()
            .map(AirSample::value)
            .sorted(Comparator.reverseOrder())
            .skip(1)
            .findFirst()
            .orElse(0.0);
    List<AirSample> lowered =
        counted.stream()
            .map(one -> new AirSample(one.time(), Math.min(most, one.value())))
            .toList();
    return new RollingAverage(window, lowered).at(now);
  }

  /**
   * What the mean over the window is at least, however much of it is missing: missing time adds
   * nothing, so that this never tells that the air is clean, only that it is not.
   */
  public double atLeast(Instant now) {
    if (samples.isEmpty()) {
      return 0;
    }
    AirAverage mean = ExposureHistory.of(samples, now).mean(now.minus(window), now);
    return mean.value() * coverage(mean.covered());
  }

  private AirSample newest() {
    return samples.get(samples.size() - 1);
  }

  private double coverage(Duration covered) {
    return (double) covered.toNanos() / window.toNanos();
  }
}
