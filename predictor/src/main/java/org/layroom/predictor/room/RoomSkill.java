package org.layroom.predictor.room;

import org.layroom.predictor.limits.Words;

/**
 * How the forecast has done lately in this room, from forecasts really made before the time came.
 *
 * @param nights nights counted, at most 14
 * @param overnightErrorK mean absolute error of the twelve hours from evening, K; NaN without
 *     nights
 */
public record RoomSkill(int nights, double overnightErrorK) {
  /** One sentence for people. */
  public String words() {
    return nights == 0
        ? "No night has been forecast here yet, so the range is a guess."
        : "Overnight forecasts were off by "
            + Words.celsiusDifference(overnightErrorK)
            + " on average over the last "
            + (nights == 1 ? "night." : nights + " nights.");
  }
}
