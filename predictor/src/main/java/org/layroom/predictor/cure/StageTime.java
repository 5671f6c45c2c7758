package org.layroom.predictor.cure;

import java.util.Optional;

/**
 * When a stage opens, and for a window when it closes.
 *
 * @param stage which
 * @param fromMinutes minutes after mixing; infinite for not within the time looked at
 * @param untilMinutes when a window closes; empty for a stage that does not close
 * @param words what to do or to check by hand, one or two sentences
 */
public record StageTime(Stage stage, Band fromMinutes, Optional<Band> untilMinutes, String words) {

  /** How far along a stage is at a time. */
  public enum Progress {
    NOT_YET,
    MAYBE,
    LIKELY,
    REACHED
  }

  /** How far along this stage is, from its own band; a hand test has the last word. */
  public Progress at(double minutes) {
    if (minutes < fromMinutes.p10()) {
      return Progress.NOT_YET;
    }
    if (minutes < fromMinutes.p50()) {
      return Progress.MAYBE;
    }
    return minutes < fromMinutes.p90() ? Progress.LIKELY : Progress.REACHED;
  }

  /** The same begun later, minutes, zero or more. */
  public StageTime later(double minutes) {
    return new StageTime(
        stage, fromMinutes.later(minutes), untilMinutes.map(band -> band.later(minutes)), words);
  }

  /** With what lies after a time turned to "not within the time looked at". */
  public StageTime cutAfter(double minutes) {
    return new StageTime(
        stage,
        fromMinutes.cutAfter(minutes),
        untilMinutes.map(band -> band.cutAfter(minutes)),
        words);
  }
}
