package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.Optional;
import org.layroom.predictor.limits.RangeCheck;

/**
 * What a watch over the air knows beside its averages, to be kept over a restart.
 *
 * @param base what was last known of the air, under any unknown
 * @param warning the warning that stands, with who has seen it
 * @param lastId of the newest warning ever raised: ids are never used again
 * @param seenAt the level at which a leave was acknowledged, times clean air or ppm; else zero
 * @param job the job that is under way
 * @param wiping when solvent was last said to be wiped
 */
public record WatchMemory(
    AirCall base,
    Optional<AirWarning> warning,
    long lastId,
    double seenAt,
    Optional<WatchedJob> job,
    Optional<Instant> wiping) {
  /** Where nobody wipes with solvent. */
  public WatchMemory(
      AirCall base,
      Optional<AirWarning> warning,
      long lastId,
      double seenAt,
      Optional<WatchedJob> job) {
    this(base, warning, lastId, seenAt, job, Optional.empty());
  }

  public WatchMemory {
    if (lastId < 0) {
      throw new IllegalArgumentException("last id " + lastId + " must be zero or more");
    }
    RangeCheck.within("level at the acknowledgment", seenAt, 0, 1e30, "");
  }
}
