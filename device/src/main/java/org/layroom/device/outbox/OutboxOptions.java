package org.layroom.device.outbox;

import java.time.Duration;

/**
 * How an outbox keeps its samples.
 *
 * @param sync when the disk is waited for ({@code fdatasync})
 * @param segmentBytes when a new file is begun, 1 KiB or more
 * @param mostSamples beyond this the oldest file is dropped and its samples are reported as lost
 */
public record OutboxOptions(Sync sync, int segmentBytes, long mostSamples) {
  /** Design: kept 30 days, then thinned. */
  private static final Duration KEPT = Duration.ofDays(30);

  /** About four hours of samples every ten seconds. */
  private static final int SEGMENT_BYTES = 256 * 1024;

  /** When an append waits until the disk has it. A killed program loses nothing either way. */
  public enum Sync {
    /** Each does. */
    EACH,
    /** One a minute does, to spare the card: a power cut takes the samples of a minute at most. */
    EACH_MINUTE,
    /** None does. */
    NEVER
  }

  public OutboxOptions {
    if (segmentBytes < 1024 || mostSamples < 1) {
      throw new IllegalArgumentException(
          "segment of " + segmentBytes + " bytes (1024 or more), " + mostSamples + " samples");
    }
  }

  /**
   * Thirty days of samples, synced once a minute. The limit counts samples, not days, so that a
   * clock that jumps cannot throw anything away.
   */
  public static OutboxOptions standard(Duration samplePeriod) {
    return new OutboxOptions(
        Sync.EACH_MINUTE,
        SEGMENT_BYTES,
        Math.max(1, KEPT.toMillis() / Math.max(1, samplePeriod.toMillis())));
  }
}
