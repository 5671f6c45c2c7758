package org.layroom.device.telemetry;

/**
 * Where a sample stands in its device's outbox.
 *
 * @param outbox made once per outbox, 1 to 64 characters
 * @param sequence counts from 1 over the outbox's whole life
 */
public record OutboxPosition(String outbox, long sequence) {
  public OutboxPosition {
    if (outbox.isEmpty() || outbox.length() > 64) {
      throw new IllegalArgumentException("outbox name must have 1 to 64 characters");
    }
    if (sequence < 1) {
      throw new IllegalArgumentException("sequence " + sequence + " must be 1 or more");
    }
  }
}
