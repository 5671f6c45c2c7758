package org.layroom.predictor.vapor;

import java.util.List;
import org.layroom.predictor.exposure.AirSample;

/**
 * A chip at its end, known by its behavior and not by a number: the vapor was rising fast, and from
 * one minute to the next the signal stands still while it lies high over clean air. Air that fills
 * or clears a room slows down over its whole time of change and does not stop short. This project's
 * own choice; figures: predictor/ALARM.md.
 */
final class FlatEnd {
  /** Over so many minutes it must stand still. */
  private static final int STILL_MINUTES = 2;

  /** And in each of so many before them it must have risen: one leap of the air is no end. */
  private static final int RISING_MINUTES = 3;

  private static final double RISING_TICKS_A_MINUTE = 60;

  /** What the mean of a minute may wander at a chip's end, ticks. */
  private static final double STILL_TICKS = 12;

  private static final double MOVES_TICKS = 30;

  private FlatEnd() {}

  /**
   * Whether the newest minutes are those of a chip at its end.
   *
   * @param minutes means of the level, a minute apart, the newest last
   * @param before whether it was at its end until now: then it stays so until it moves
   */
  static boolean reached(List<AirSample> minutes, boolean before) {
    int newest = minutes.size() - 1;
    if (newest < 1 || minutes.get(newest).value() < LeaveLevels.LOWEST) {
      return false;
    }
    if (before) {
      return Math.abs(ticks(minutes, newest) - ticks(minutes, newest - 1)) < MOVES_TICKS;
    }
    int still = newest - STILL_MINUTES;
    int began = still - 1;
    int from = began - RISING_MINUTES;
    if (from < 0) {
      return false;
    }
    for (int minute = from; minute < began; minute++) {
      if (ticks(minutes, minute + 1) - ticks(minutes, minute) < RISING_TICKS_A_MINUTE) {
        return false;
      }
    }
    return Math.abs(ticks(minutes, newest) - ticks(minutes, still)) <= STILL_TICKS;
  }

  private static double ticks(List<AirSample> minutes, int index) {
    return VocLevel.TICKS_PER_DOUBLING
        * Math.log(Math.max(1e-9, minutes.get(index).value()))
        / Math.log(2);
  }
}
