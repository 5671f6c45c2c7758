package org.layroom.predictor.room.plan;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A start and what becomes of it.
 *
 * @param start when the first step is mixed
 * @param steps the steps that could be placed, in order
 * @param demold when to look at the part: someone is up and it is likely ready; empty when that
 *     lies beyond the forecast
 * @param chance share of the room's paths in which every step stays inside its limits, 0 to 1
 * @param troubles what goes wrong, one sentence each; empty for a start that is proposed
 */
public record StartTime(
    Instant start,
    List<PlannedStep> steps,
    Optional<Instant> demold,
    double chance,
    List<String> troubles) {
  public StartTime {
    steps = List.copyOf(steps);
    troubles = List.copyOf(troubles);
  }

  /** Whether nothing stands against it. */
  public boolean proposed() {
    return troubles.isEmpty();
  }
}
