package org.layroom.dashboard.alarms;

import java.time.Duration;
import java.util.List;
import java.util.OptionalDouble;

/**
 * One moment: the truth, and what happens at it.
 *
 * @param at since the first moment
 * @param styrenePpm the true styrene where people breathe, ppm
 * @param solventPpm the true acetone there, ppm
 * @param predictedPpm what the box model upstairs predicts for this moment of a layup, ppm, as
 *     wrong as such a prediction is; empty where none was asked for
 * @param happenings in order; may be none
 */
public record Moment(
    Duration at,
    double styrenePpm,
    double solventPpm,
    OptionalDouble predictedPpm,
    List<Happening> happenings) {
  public Moment {
    happenings = List.copyOf(happenings);
  }
}
