package org.layroom.dashboard.access;

import java.time.Duration;

/** What comes of typing a code. */
public sealed interface PairingAttempt {

  /**
   * The code was right, and is used up.
   *
   * @param token what the device comes in with from now on; nowhere else
   */
  record LetIn(AccessSession session, String token) implements PairingAttempt {
    /** Without the token, so that no log gets it by accident. */
    @Override
    public String toString() {
      return "LetIn[" + session + "]";
    }
  }

  /** There is no such code, or not any more. */
  record Wrong() implements PairingAttempt {}

  /** Too many codes were tried within a minute, by whomever. */
  record TooMany(Duration pause) implements PairingAttempt {}

  /** As many devices are paired as can be. */
  record Full(int most) implements PairingAttempt {}
}
