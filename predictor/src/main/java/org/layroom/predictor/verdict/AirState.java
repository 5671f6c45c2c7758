package org.layroom.predictor.verdict;

import java.util.OptionalDouble;
import org.layroom.predictor.vapor.VaporWatch;

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

  /** What the warning machine says. A detector's ppm is told in its words and never as a level. */
  public static AirState of(VaporWatch watch) {
    Kind kind =
        switch (watch.call()) {
          case OK -> Kind.OK;
          case VENTILATE -> Kind.VENTILATE;
          case LEAVE -> Kind.LEAVE;
          case UNKNOWN -> Kind.UNKNOWN;
        };
    String words = String.join(" ", watch.words()).strip();
    return of(kind, words.endsWith(".") ? words.substring(0, words.length() - 1) : words);
  }

  /** Nothing measures the air. */
  public static AirState notMeasured() {
    return of(Kind.UNKNOWN, "no vapor sensor");
  }
}
