package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * Since when each condition has held without a break, and what that makes of the air: up after a
 * minute, down after ten.
 */
record HoldTimers(
    Optional<Instant> leave,
    Optional<Instant> ventilate,
    Optional<Instant> mild,
    Optional<Instant> belowLeave,
    Optional<Instant> belowVentilate) {
  private static final Duration UP = Duration.ofMinutes(1);
  private static final Duration DOWN = Duration.ofMinutes(10);

  static final HoldTimers NONE =
      new HoldTimers(
          Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

  /** What holds now; nothing that speaks for cleaner air does while the sensor is not believed. */
  HoldTimers at(Instant time, CallReasons evidence, boolean believed) {
    return new HoldTimers(
        since(leave, !evidence.leave().isEmpty(), time),
        since(ventilate, !evidence.ventilate().isEmpty(), time),
        since(mild, !evidence.mild().isEmpty(), time),
        since(belowLeave, believed && evidence.belowLeave(), time),
        since(belowVentilate, believed && evidence.belowVentilate(), time));
  }

  /**
   * What is known of the air, under any unknown that is laid over it.
   *
   * @param before what was known; unknown before anything was
   * @param fresh the step brought a reading: nothing else ends an unknown
   * @param leaveSeen somebody has acknowledged the leave that stands
   */
  AirCall base(
      AirCall before,
      boolean fresh,
      boolean leaveSeen,
      boolean believed,
      CallReasons evidence,
      Instant time) {
    if (!evidence.leaveNow().isEmpty() || lasted(leave, UP, time)) {
      return AirCall.LEAVE;
    }
    boolean clear = lasted(belowVentilate, DOWN, time);
    if (before == AirCall.LEAVE) {
      boolean over = leaveSeen && lasted(belowLeave, DOWN, time);
      return over ? (clear ? AirCall.OK : AirCall.VENTILATE) : AirCall.LEAVE;
    }
    if (!evidence.ventilateNow().isEmpty()
        || lasted(ventilate, UP, time)
        || lasted(mild, DOWN, time)) {
      return AirCall.VENTILATE;
    }
    if (before == AirCall.VENTILATE) {
      return clear ? AirCall.OK : AirCall.VENTILATE;
    }
    if (!believed || !evidence.covered() || (before == AirCall.UNKNOWN && !fresh)) {
      return AirCall.UNKNOWN;
    }
    return before == AirCall.OK || evidence.low() ? AirCall.OK : AirCall.VENTILATE;
  }

  private static Optional<Instant> since(Optional<Instant> before, boolean holds, Instant time) {
    return holds ? Optional.of(before.orElse(time)) : Optional.empty();
  }

  private static boolean lasted(Optional<Instant> since, Duration time, Instant now) {
    return since.filter(at -> Duration.between(at, now).compareTo(time) >= 0).isPresent();
  }
}
