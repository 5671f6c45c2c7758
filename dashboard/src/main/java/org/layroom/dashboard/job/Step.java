package org.layroom.dashboard.job;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How far one step is.
 *
 * @param applied when its coat was put on
 * @param mixes the cups mixed for it, the oldest first
 * @param filmMm the newest wet film reading
 * @param check the newest check by hand
 * @param done when it was done
 * @param skipped whether it was left out
 */
public record Step(
    PlannedJobStep planned,
    Optional<Instant> applied,
    List<StoredJobEvent> mixes,
    OptionalDouble filmMm,
    Optional<JobEvent.Checked> check,
    Optional<Instant> done,
    boolean skipped) {
  public Step {
    mixes = List.copyOf(mixes);
  }

  static Step planned(PlannedJobStep step) {
    return new Step(
        step,
        Optional.empty(),
        List.of(),
        OptionalDouble.empty(),
        Optional.empty(),
        Optional.empty(),
        false);
  }

  /** After one more event about it. */
  Step after(StoredJobEvent kept) {
    JobEvent event = kept.event();
    if (event instanceof JobEvent.Applied) {
      return new Step(planned, Optional.of(kept.time()), mixes, filmMm, check, done, skipped);
    }
    if (event instanceof JobEvent.Mixed) {
      List<StoredJobEvent> more = new ArrayList<>(mixes);
      more.add(kept);
      return new Step(planned, applied, more, filmMm, check, done, skipped);
    }
    if (event instanceof JobEvent.FilmRead film) {
      return new Step(
          planned, applied, mixes, OptionalDouble.of(film.millimeters()), check, done, skipped);
    }
    if (event instanceof JobEvent.Checked checked) {
      return new Step(planned, applied, mixes, filmMm, Optional.of(checked), done, skipped);
    }
    if (event instanceof JobEvent.Done) {
      return new Step(planned, applied, mixes, filmMm, check, Optional.of(kept.time()), skipped);
    }
    if (event instanceof JobEvent.Skipped) {
      return new Step(planned, applied, mixes, filmMm, check, done, true);
    }
    return this;
  }

  /** Done or left out. */
  public boolean over() {
    return done.isPresent() || skipped;
  }

  /** Begun and not over. */
  public boolean running() {
    return !over() && (applied.isPresent() || !mixes.isEmpty());
  }

  /** The name in JSON for how far it is. */
  public String state() {
    if (skipped) {
      return "left-out";
    }
    if (done.isPresent()) {
      return "done";
    }
    return running() ? "running" : "waiting";
  }
}
