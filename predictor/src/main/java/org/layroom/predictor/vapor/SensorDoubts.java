package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Why nothing that was measured can be believed now. */
final class SensorDoubts {
  private SensorDoubts() {}

  /** The reasons, in words; empty when it can be believed. */
  static List<String> of(
      SensorFeed feed, WatchSettings settings, Optional<WatchedJob> job, Instant time) {
    List<String> doubts = new ArrayList<>();
    feed.fault().ifPresent(reason -> doubts.add("No usable reading: " + reason + "."));
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
    settings.doubt().ifPresent(doubts::add);
    return doubts;
  }

  /** A clean-air reading that was young enough at the start of a job does not fall stale in it. */
  private static Optional<String> cleanAir(
      VaporSensor.Chip chip, Optional<WatchedJob> job, Instant time) {
    if (chip.keptByDevice()) {
      return Optional.empty();
    }
    if (chip.cleanAir().isEmpty()) {
      return Optional.of("No clean-air reading has been taken.");
    }
    Instant judged = job.map(WatchedJob::start).orElse(time);
    return chip.cleanAir().get().staleAt(judged)
        ? Optional.of("The clean-air reading is over 30 days old.")
        : Optional.empty();
  }
}
