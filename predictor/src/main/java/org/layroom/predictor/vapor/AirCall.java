package org.layroom.predictor.vapor;

/**
 * What the air calls for, in the one order in which somebody is needed: a device that cannot tell
 * does not hide one that calls to ventilate, as in the mix check, and leave outranks all. Unknown
 * is never shown as ok; there is no state that says more of the air than that no rise is seen.
 */
public enum AirCall {
  /** No rise is seen. */
  OK,
  /** Nobody can say: ventilate as if the air were bad. */
  UNKNOWN,
  /** Air the room. */
  VENTILATE,
  /** Get out first, air afterward. */
  LEAVE
}
