package org.layroom.predictor.exposure;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The dose of the last eight hours, in minutes' portions, so that a long watch stays small. A
 * reading stands until the next, at most 90 s; missing time adds nothing. Immutable.
 */
public final class EightHourDose {
  public static final Duration LENGTH = Duration.ofHours(8);
  private static final Duration PORTION = Duration.ofMinutes(1);
  public static final double HOURS = 8;

  /** Value times hours, and the time measured, of about one minute. */
  private record Portion(Instant from, double dose, Duration covered) {}

  private final List<Portion> whole;
  private final Optional<Portion> open;
  private final Optional<AirSample> newest;

  private EightHourDose(List<Portion> whole, Optional<Portion> open, Optional<AirSample> newest) {
    this.whole = whole;
    this.open = open;
    this.newest = newest;
  }

  public static EightHourDose none() {
    return new EightHourDose(List.of(), Optional.empty(), Optional.empty());
  }

  public EightHourDose plus(AirSample sample) {
    if (newest.isEmpty()) {
      return new EightHourDose(whole, open, Optional.of(sample));
    }
    AirSample before = newest.get();
    if (!sample.time().isAfter(before.time())) {
      return this;
    }
    Duration held = Duration.between(before.time(), sample.time());
    boolean gap = held.compareTo(RollingAverage.LONGEST_GAP) > 0;
    Portion more =
        new Portion(
            before.time(),
            gap ? 0 : before.value() * held.toMillis() / 3_600_000.0,
            gap ? Duration.ZERO : held);
    return with(more, sample);
  }

  private EightHourDose with(Portion more, AirSample sample) {
    if (open.isPresent()
        && Duration.between(open.get().from(), more.from()).compareTo(PORTION) < 0) {
      Portion joined =
          new Portion(
              open.get().from(),
              open.get().dose() + more.dose(),
              open.get().covered().plus(more.covered()));
      return new EightHourDose(whole, Optional.of(joined), Optional.of(sample));
    }
    List<Portion> next = new ArrayList<>(whole.size() + 1);
    Instant oldest = sample.time().minus(LENGTH);
    for (Portion portion : whole) {
      if (!portion.from().isBefore(oldest)) {
        next.add(portion);
      }
    }
    open.ifPresent(next::add);
    return new EightHourDose(next, Optional.of(more), Optional.of(sample));
  }

  /** ppm x hours within a time before now, to a minute. */
  public double dose(Instant now, Duration back) {
    Instant from = now.minus(back);
    double sum = 0;
    for (Portion portion : whole) {
      if (!portion.from().isBefore(from)) {
        sum += portion.dose();
      }
    }
    return sum + open.filter(one -> !one.from().isBefore(from)).map(Portion::dose).orElse(0.0);
  }

  /** The average of the last eight hours, "at least" where less than that was measured. */
  public Optional<AirAverage> average(Instant now) {
    Instant from = now.minus(LENGTH);
    Duration covered = open.map(Portion::covered).orElse(Duration.ZERO);
    for (Portion portion : whole) {
      if (!portion.from().isBefore(from)) {
        covered = covered.plus(portion.covered());
      }
    }
    boolean atLeast = covered.plus(PORTION).plus(PORTION).compareTo(LENGTH) < 0;
    return newest.isEmpty()
        ? Optional.empty()
        : Optional.of(new AirAverage(dose(now, LENGTH) / HOURS, covered, atLeast));
  }
}
