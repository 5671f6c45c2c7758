package org.layroom.device.outbox;

/** What became of a sample that was given to the outbox. */
public sealed interface Appended {
  /** It is on disk and has its number. */
  record Kept(StoredSample sample) implements Appended {}

  /** The disk refused it: it has no number and can only be sent as it is, once. */
  record NotKept(String reason) implements Appended {}
}
