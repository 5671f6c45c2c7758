package org.layroom.predictor.emission;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * What somebody said of fan and respirator before a cup was mixed, and when it is asked again: at
 * the first cup of an evening, after an hour, after a leave, and when a better mask is needed. A
 * second cup in the same evening is not nagged anew (this project's own choice).
 *
 * @param said when
 * @param fanOn the fan runs
 * @param respiratorOn the respirator is on
 * @param mask which one was called for then
 */
public record Protection(Instant said, boolean fanOn, boolean respiratorOn, Respirator mask) {
  /** So long it stands for the next cup. */
  public static final Duration STANDS = Duration.ofMinutes(60);

  /**
   * Why it is asked now, in words; empty when what was said still stands.
   *
   * @param last what was said last
   * @param leave when a leave was last raised
   * @param needed the mask that this cup calls for
   */
  public static Optional<String> asked(
      Optional<Protection> last, Instant now, Optional<Instant> leave, Respirator needed) {
    if (last.isEmpty()) {
      return Optional.of("First cup: say what is on.");
    }
    Instant said = last.get().said();
    if (leave.filter(at -> !at.isBefore(said)).isPresent()) {
      return Optional.of("There was a call to leave since you last said so: say what is on.");
    }
    if (Duration.between(said, now).compareTo(STANDS) >= 0) {
      return Optional.of("An hour has passed: say what is on.");
    }
    return needed.compareTo(last.get().mask()) > 0
        ? Optional.of("This cup needs a better mask: " + needed.words() + ". Say what is on.")
        : Optional.empty();
  }
}
