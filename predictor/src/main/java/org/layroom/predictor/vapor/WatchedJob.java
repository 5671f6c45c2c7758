package org.layroom.predictor.vapor;

import java.time.Instant;

/**
 * A job as far as the air is concerned.
 *
 * @param until when it is over at the latest
 * @param quiet fan and respirator were promised
 * @param worstMinute the highest mean of a minute so far
 */
public record WatchedJob(
    Instant start, Instant until, String who, boolean quiet, double worstMinute) {

  WatchedJob seen(double minuteLevel) {
    return new WatchedJob(start, until, who, quiet, Math.max(worstMinute, minuteLevel));
  }
}
