package org.layroom.dashboard.alarms;

/**
 * A sensor as the judge must know it, to tell what could have been asked of it.
 *
 * @param device whose sensor it is, {@code [a-z0-9-]{1,32}}
 * @param kind what it measures
 * @param houseSide it stands on the house side of the door
 * @param cleanAirTicks the clean-air reading taken on the day before the first moment; zero for a
 *     chip without one, and for a detector
 * @param levelAtDanger what it really shows at ten times the eight-hour limit or 350 ppm, whichever
 *     is lower: times clean air for a chip, ppm for a detector
 * @param dailyWander the highest over the lowest level of a day in clean air, one or more: the goal
 *     of no missed leave holds where {@code levelAtDanger} is at least three times this
 */
public record Sensor(
    String device,
    Kind kind,
    boolean houseSide,
    double cleanAirTicks,
    double levelAtDanger,
    double dailyWander) {
  /** What it measures. */
  public enum Kind {
    /** A metal-oxide chip: raw ticks. */
    CHIP,
    /** A photoionization detector: isobutylene. */
    PID
  }

  /** Whether no leave may be missed with it. */
  public boolean canTell() {
    return kind == Kind.PID || levelAtDanger >= 3 * dailyWander;
  }
}
