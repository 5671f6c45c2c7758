package org.layroom.dashboard.door;

import java.time.Duration;

/** What comes of typing a code. */
public sealed interface Entry {

  /**
   * The code was right, and is used up.
   *
   * @param token what the device comes in with from now on; nowhere else
   */
  record LetIn(Session session, String token) implements Entry {
    /** Without the token, so that no log gets it by accident. */
    @Override
    public String toString() {
      return "LetIn[" + session + "]";
    }
  }

  /** There is no such code, or not any more. */
  record Wrong() implements Entry {}

  /** Too many codes were tried within a minute, by whomever. */
  record TooMany(Duration pause) implements Entry {}

  /** As many devices are paired as can be. */
  record Full(int most) implements Entry {}
}
