package org.layroom.predictor.room.plan;

import java.time.Instant;
import java.util.List;
import org.layroom.predictor.cure.StageTime;

/**
 * One mix at its place in a plan.
 *
 * @param name of the step
 * @param mixAt when to mix
 * @param stages its stages, minutes after {@code mixAt}
 * @param chance share of the room's paths that stay inside the limits until it has gelled, 0 to 1
 */
public record PlannedStep(String name, Instant mixAt, List<StageTime> stages, double chance) {
  public PlannedStep {
    stages = List.copyOf(stages);
  }
}
