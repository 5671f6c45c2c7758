package org.layroom.predictor.verdict;

import java.util.OptionalDouble;

/**
 * What the vapor monitor says about the air.
 *
 * @param kind its state
 * @param words why, in words; may be empty
 * @param timesCleanAir the level against this room's clean air, where there is one: zero or more
 */
public record AirState(Kind kind, String words, OptionalDouble timesCleanAir) {
  /** The states of the vapor monitor. */
  public enum Kind {
    OK,
    VENTILATE,
    LEAVE,
    UNKNOWN
  }

  public AirState {
    if (timesCleanAir.isPresent() && !(timesCleanAir.getAsDouble() >= 0)) {
      throw new IllegalArgumentException(
          "level " + timesCleanAir.getAsDouble() + " times clean air must be zero or more");
    }
  }

  /** A state with its reason and no level. */
  public static AirState of(Kind kind, String words) {
    return new AirState(kind, words, OptionalDouble.empty());
  }

  /** A state with its reason and its level in times clean air. */
  public static AirState of(Kind kind, String words, double timesCleanAir) {
    return new AirState(kind, words, OptionalDouble.of(timesCleanAir));
  }

  /** Nothing measures the air. */
  public static AirState notMeasured() {
    return of(Kind.UNKNOWN, "no vapor sensor");
  }
}
