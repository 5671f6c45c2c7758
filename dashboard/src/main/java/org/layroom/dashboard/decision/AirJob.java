package org.layroom.dashboard.decision;

import java.time.Instant;

/**
 * A job as the warnings know it. With fan and respirator on, the warnings in the layup room get
 * quieter while a chip measures; neither makes anything harmless, and the house side stays loud.
 *
 * @param started when it began
 * @param until when it is over at the latest, after {@code started}
 * @param who started it, 1 to 60 characters
 * @param fanOn and said that the fan runs
 * @param respiratorOn and that the respirator is on
 */
public record AirJob(
    Instant started, Instant until, String who, boolean fanOn, boolean respiratorOn) {
  public AirJob {
    PersonName.checked(who);
    if (!until.isAfter(started)) {
      throw new IllegalArgumentException("job until " + until + " must be after " + started);
    }
  }
}
