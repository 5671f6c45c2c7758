package org.layroom.device.outbox;

/** Sequence numbers from {@code first} to {@code last}, both included. */
public record SequenceRange(long first, long last) {
  public SequenceRange {
    if (first < 1 || last < first) {
      throw new IllegalArgumentException("sequence range " + first + " to " + last);
    }
  }

  boolean touches(long sequence) {
    return last + 1 == sequence;
  }
}
