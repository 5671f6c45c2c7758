package org.layroom.device.sampling;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * What a VOC chip read in this room's clean air, taken on purpose.
 *
 * @param ticks the raw signal then, 1 to 65534
 * @param taken when
 */
public record CleanAir(double ticks, Instant taken) {
  /** After this the air is unknown (this project's choice). */
  static final Duration OLDEST = Duration.ofDays(30);

  public CleanAir {
    if (!(ticks >= 1 && ticks <= 65_534)) {
      throw new IllegalArgumentException(
          "clean-air reading " + ticks + ": must be a raw signal from 1 to 65534");
    }
  }

  /** Why the reading says nothing any more; empty when it does. */
  Optional<String> objection(Instant now) {
    Duration age = Duration.between(taken, now);
    return age.compareTo(OLDEST) > 0
        ? Optional.of(
            "the clean-air reading is "
                + age.toDays()
                + " days old: air the room and take a"
                + " new one")
        : Optional.empty();
  }
}
