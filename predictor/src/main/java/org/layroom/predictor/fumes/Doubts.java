package org.layroom.predictor.fumes;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Why nothing that was measured can be believed now. */
final class Doubts {
  private Doubts() {}

  /** The reasons, in words; empty when it can be believed. */
  static List<String> of(Feed feed, WatchSettings settings, Optional<Job> job, Instant time) {
    List<String> doubts = new ArrayList<>();
    feed.fault().ifPresent(reason -> doubts.add("The sensor says nothing: " + reason + "."));
    boolean silent =
        feed.heard()
            .filter(at -> Duration.between(at, time).compareTo(settings.longestSilence()) > 0)
            .isPresent();
    if (silent) {
      doubts.add("No reading for more than " + settings.longestSilence().toSeconds() + " s.");
    }
    feed.climate().ifPresent(doubts::add);
    if (settings.sensor() instanceof VaporSensor.Chip chip) {
      cleanAir(chip, job, time).ifPresent(doubts::add);
    }
    return doubts;
  }

  /** A clean-air reading that was young enough at the start of a job does not fall stale in it. */
  private static Optional<String> cleanAir(VaporSensor.Chip chip, Optional<Job> job, Instant time) {
    if (chip.keptByDevice()) {
      return Optional.empty();
    }
    if (chip.cleanAir().isEmpty()) {
      return Optional.of("No clean-air reading has been taken.");
    }
    Instant judged = job.map(Job::start).orElse(time);
    return chip.cleanAir().get().staleAt(judged)
        ? Optional.of("The clean-air reading is older than 30 days.")
        : Optional.empty();
  }
}
