package org.layroom.predictor.vapor;

/**
 * What the air calls for. Leave outranks unknown, and unknown is never shown as ok; there is no
 * state that says more of the air than that no rise is seen.
 */
public enum AirCall {
  /** No rise is seen. */
  OK,
  /** Air the room. */
  VENTILATE,
  /** Nobody can say: as a precaution as bad as {@link #VENTILATE}. */
  UNKNOWN,
  /** Get out first, air afterward. */
  LEAVE
}
