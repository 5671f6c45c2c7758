package org.layroom.predictor.room.plan;

import java.util.List;

/**
 * Starts in the next three days.
 *
 * @param proposed best first: likeliest to stay inside the limits, then soonest out of the mold
 * @param others the rest in order of time, each with what goes wrong
 */
public record StartPlan(List<StartTime> proposed, List<StartTime> others) {
  public StartPlan {
    proposed = List.copyOf(proposed);
    others = List.copyOf(others);
  }
}
