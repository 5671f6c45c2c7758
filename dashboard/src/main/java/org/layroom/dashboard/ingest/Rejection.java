package org.layroom.dashboard.ingest;

/** Why a message, or one value of it, did not become a good reading. */
public enum Rejection {
  /** Not valid SenML, or not a valid status. */
  MALFORMED("malformed messages"),
  /** Larger than 64 KiB. */
  OVERSIZED("oversized messages"),
  /** A topic outside the contract. */
  UNKNOWN_TOPIC("messages on unknown topics"),
  /** Readings that somebody left at the broker for whoever connects. */
  RETAINED("retained readings"),
  /** The payload says it is another device than the topic. */
  SPOOFED("messages sent under another device's name"),
  /** A value that cannot be true; kept as rejected. */
  IMPOSSIBLE("impossible values"),
  /** One series or device more than there may be. */
  TOO_MANY("readings of too many series or devices"),
  /** The store refused it for good; only a defect of this program does that. */
  NOT_STORABLE("messages the store refused"),
  /** The store did not keep up; the message was left with the broker, to be sent again. */
  PUT_OFF("messages postponed");

  private final String words;

  Rejection(String words) {
    this.words = words;
  }

  String words() {
    return words;
  }
}
