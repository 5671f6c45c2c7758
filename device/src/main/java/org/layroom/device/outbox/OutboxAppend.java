package org.layroom.device.outbox;

/** What became of a sample that was given to the outbox. */
public sealed interface OutboxAppend {
  /** It is on disk and has its number. */
  record Kept(OutboxSample sample) implements OutboxAppend {}

  /** The disk refused it: it has no number and can only be sent as it is, once. */
  record NotKept(String reason) implements OutboxAppend {}
}
