package org.layroom.predictor.exposure;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * The air over hours: eight-hour average and largest rolling quarter of an hour. The eight-hour
 * average is {@code E = sum(C T) / 8}, with 8 whatever the shift (29 CFR 1910.1000(d)(1)(i)). A
 * reading holds until the next one, at most 90 s; time without readings is never counted as clean
 * air, so the result is then "at least".
 */
public final class ExposureHistory {
  private static final Duration EIGHT_HOURS = Duration.ofHours(8);

  /** One reading and for how long it stands: [fromNanos, toNanos) after the first reading. */
  private record Span(long fromNanos, long toNanos, double value) {}

  private final Instant start;
  private final Instant end;
  private final List<Span> spans;

  private ExposureHistory(Instant start, Instant end, List<Span> spans) {
    this.start = start;
    this.end = end;
    this.spans = spans;
  }

  /**
   * A history from its first reading to {@code end}.
   *
   * @param samples at least one, in any order, none twice at one time, none after {@code end}
   * @param end when the history ends; the last reading stands until then, at most 90 s
   */
  public static ExposureHistory of(List<AirSample> samples, Instant end) {
    if (samples.isEmpty()) {
      throw new IllegalArgumentException("a history of the air needs at least one reading");
    }
    List<AirSample> sorted = new ArrayList<>(samples);
    sorted.sort(Comparator.comparing(AirSample::time));
    Instant start = sorted.get(0).time();
    if (sorted.get(sorted.size() - 1).time().isAfter(end)) {
      throw new IllegalArgumentException("a reading lies after the end " + end);
    }
    List<Span> spans = new ArrayList<>(sorted.size());
    for (int i = 0; i < sorted.size(); i++) {
      Instant from = sorted.get(i).time();
      boolean last = i + 1 == sorted.size();
      Instant to = last ? end : sorted.get(i + 1).time();
      if (Duration.between(from, to).compareTo(RollingAverage.LONGEST_GAP) > 0) {
        continue;
      }
      spans.add(
          new Span(
              Duration.between(start, from).toNanos(),
              Duration.between(start, to).toNanos(),
              sorted.get(i).value()));
    }
    return new ExposureHistory(start, end, spans);
  }

  /**
   * The eight-hour average, {@code sum(C T) / 8}.
   *
   * <p>A history longer than eight hours is averaged in the same way: the divisor stays 8, as the
   * regulation has it.
   */
  public AirAverage eightHourAverage() {
    Sum sum = sum(0, Duration.between(start, end).toNanos());
    return new AirAverage(
        sum.valueNanos / EIGHT_HOURS.toNanos(), Duration.ofNanos(sum.nanos), missing(sum.nanos));
  }

  /** The time-weighted mean of what is covered between two times; 0 with nothing covered. */
  AirAverage mean(Instant from, Instant to) {
    long fromNanos = Duration.between(start, from).toNanos();
    long toNanos = Duration.between(start, to).toNanos();
    Sum sum = sum(fromNanos, toNanos);
    double mean = sum.nanos == 0 ? 0 : sum.valueNanos / sum.nanos;
    return new AirAverage(mean, Duration.ofNanos(sum.nanos), sum.nanos < toNanos - fromNanos);
  }

  /**
   * The largest of all rolling quarters of an hour of which at least 80 % is covered; empty when
   * there is none. "At least" when any time of the history is missing.
   */
  public Optional<AirAverage> largestShortTermAverage() {
    long window = RollingAverage.SHORT_TERM.toNanos();
    long length = Duration.between(start, end).toNanos();
    double leastNanos = RollingAverage.LEAST_COVERAGE * window;
    Cumulative cumulative = new Cumulative(spans);
    Optional<AirAverage> largest = Optional.empty();
    boolean missing = missing(cumulative.covered(length));
    for (long ends : candidateEnds(window, length)) {
      long covered = cumulative.covered(ends) - cumulative.covered(ends - window);
      if (covered < leastNanos) {
        continue;
      }
      double mean = (cumulative.value(ends) - cumulative.value(ends - window)) / covered;
      if (largest.isEmpty() || mean > largest.get().value()) {
        largest = Optional.of(new AirAverage(mean, Duration.ofNanos(covered), missing));
      }
    }
    return largest;
  }

  /** A mean of steps is largest where an end of the window meets an end of a step. */
  private long[] candidateEnds(long window, long length) {
    return spans.stream()
        .flatMap(
            span ->
                Stream.of(
                    span.fromNanos, span.toNanos, span.fromNanos + window, span.toNanos + window))
        .mapToLong(Long::longValue)
        .filter(ends -> ends >= 0 && ends <= length)
        .sorted()
        .distinct()
        .toArray();
  }

  private boolean missing(long coveredNanos) {
    return coveredNanos < Duration.between(start, end).toNanos();
  }

  private record Sum(double valueNanos, long nanos) {}

  private Sum sum(long fromNanos, long toNanos) {
    double value = 0;
    long nanos = 0;
    for (Span span : spans) {
      long overlap = Math.min(span.toNanos, toNanos) - Math.max(span.fromNanos, fromNanos);
      if (overlap > 0) {
        value += span.value * overlap;
        nanos += overlap;
      }
    }
    return new Sum(value, nanos);
  }

  /** Running sums over the spans, so that a window costs two look-ups. */
  private static final class Cumulative {
    private final long[] from;
    private final double[] valueBefore;
    private final long[] coveredBefore;
    private final List<Span> spans;

    Cumulative(List<Span> spans) {
      this.spans = spans;
      from = new long[spans.size()];
      valueBefore = new double[spans.size()];
      coveredBefore = new long[spans.size()];
      for (int i = 0; i < spans.size(); i++) {
        from[i] = spans.get(i).fromNanos;
        if (i > 0) {
          Span earlier = spans.get(i - 1);
          long nanos = earlier.toNanos - earlier.fromNanos;
          valueBefore[i] = valueBefore[i - 1] + earlier.value * nanos;
          coveredBefore[i] = coveredBefore[i - 1] + nanos;
        }
      }
    }

    double value(long atNanos) {
      int i = index(atNanos);
      return i < 0 ? 0 : valueBefore[i] + spans.get(i).value * within(i, atNanos);
    }

    long covered(long atNanos) {
      int i = index(atNanos);
      return i < 0 ? 0 : coveredBefore[i] + within(i, atNanos);
    }

    private long within(int i, long atNanos) {
      return Math.min(atNanos, spans.get(i).toNanos) - from[i];
    }

    private int index(long atNanos) {
      int found = Arrays.binarySearch(from, atNanos);
      return found >= 0 ? found : -found - 2;
    }
  }
}
