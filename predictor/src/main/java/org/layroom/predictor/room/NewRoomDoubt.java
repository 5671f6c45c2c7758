package org.layroom.predictor.room;

/**
 * How much more doubt there is while a room is new. Errors of the first days are few and alike, so
 * they promise too much; and before a whole day has been seen, its swing is not known at all. The
 * three numbers were chosen on the first weeks of recorded and invented rooms.
 *
 * @param days since the first reading
 */
record NewRoomDoubt(double days) {
  private static final double AT_FIRST = 1.2;
  private static final double FADING = 1.3;

  /** Mean absolute error that an unknown daily swing makes half a day ahead, K. */
  private static final double UNSEEN_SWING_K = 1.6;

  private static final double SWING_SEEN_DAYS = 1.5;
  private static final double FULL_LEAD_HOURS = 3;

  /** The mean absolute error to show, K, for one that was learned. */
  double widened(double learnedK, int leadHours) {
    double young = AT_FIRST / StrictMath.pow(1 + days, FADING);
    double factor = 1 + young * Math.min(1, leadHours / FULL_LEAD_HOURS);
    double swing =
        UNSEEN_SWING_K
            * Math.max(0, 1 - days / SWING_SEEN_DAYS)
            * StrictMath.sin(Math.PI * Math.min(leadHours, 12) / 24);
    return Math.hypot(learnedK * factor, swing);
  }
}
