package org.layroom.dashboard.warning;

/** What became of an acknowledgment. */
public enum Acknowledging {
  /** It is kept, and the device is told. */
  KEPT,
  /** It was kept when it was said for the first time. */
  SAID_BEFORE,
  /** No such warning stands. */
  NOT_OPEN
}
