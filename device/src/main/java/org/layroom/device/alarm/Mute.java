package org.layroom.device.alarm;

import java.time.Duration;
import java.util.Optional;
import org.layroom.predictor.vapor.AirCall;

/**
 * What the mute button does: keeps one warning silent for a while, leave for at most ten minutes,
 * and no later warning at all. Pressing again meanwhile adds nothing. Immutable.
 *
 * @param warningId the warning that was muted
 * @param until running time at which it is heard again
 */
record Mute(long warningId, Duration until) {
  /** The longest silence of a call to leave. */
  static final Duration LEAVE = Duration.ofMinutes(10);

  private static final Duration OTHERS = Duration.ofHours(1);

  /** After the button was pressed. */
  static Optional<Mute> pressed(
      Optional<Mute> before, long warningId, AirCall call, Duration uptime) {
    boolean already = before.filter(mute -> mute.silences(warningId, uptime)).isPresent();
    return already
        ? before
        : Optional.of(new Mute(warningId, uptime.plus(call == AirCall.LEAVE ? LEAVE : OTHERS)));
  }

  boolean silences(long id, Duration uptime) {
    return id == warningId && uptime.compareTo(until) < 0;
  }
}
