package org.layroom.device.outbox;

import java.time.Duration;

/**
 * How an outbox keeps its samples.
 *
 * @param forceEach whether each append waits until the disk has it ({@code fdatasync})
 * @param segmentBytes when a new file is begun, 1 KiB or more
 * @param mostSamples beyond this the oldest file is dropped and its samples are reported as lost
 */
public record OutboxOptions(boolean forceEach, int segmentBytes, long mostSamples) {
  /** Design: kept 30 days, then thinned. */
  private static final Duration KEPT = Duration.ofDays(30);

  /** About four hours of samples every ten seconds. */
  private static final int SEGMENT_BYTES = 256 * 1024;

  public OutboxOptions {
    if (segmentBytes < 1024 || mostSamples < 1) {
      throw new IllegalArgumentException(
          "segment of " + segmentBytes + " bytes (1024 or more), " + mostSamples + " samples");
    }
  }

  /**
   * Thirty days of samples, each on disk before it is sent. The limit counts samples, not days, so
   * that a clock that jumps cannot throw anything away.
   */
  public static OutboxOptions standard(Duration samplePeriod) {
    return new OutboxOptions(
        true, SEGMENT_BYTES, Math.max(1, KEPT.toMillis() / Math.max(1, samplePeriod.toMillis())));
  }

  OutboxOptions forcing(boolean each) {
    return new OutboxOptions(each, segmentBytes, mostSamples);
  }
}
