package org.layroom.dashboard.store;

import java.time.Instant;

/**
 * The three times of a sample, all kept, to the millisecond.
 *
 * @param original what the device said
 * @param corrected what the dashboard goes by; differs from the original when the device's clock
 *     was wrong
 * @param received when the dashboard got the message
 */
public record SampleTimes(Instant original, Instant corrected, Instant received) {
  public static SampleTimes asSaid(Instant original, Instant received) {
    return new SampleTimes(original, original, received);
  }
}
