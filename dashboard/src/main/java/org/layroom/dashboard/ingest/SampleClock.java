package org.layroom.dashboard.ingest;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.dashboard.store.SampleTimes;
import org.layroom.device.telemetry.DeviceMessage;
import org.layroom.device.telemetry.SampleTime;

/**
 * Decides which time a sample is kept under. A device's wall clock may be wrong; its running time
 * cannot: the difference between running time at sending and at sampling is the sample's true age
 * when it was sent, and that tells backlog from a slow clock.
 */
final class SampleClock {
  /** Clocks that differ by less are left alone; readings older than this are backlog. */
  static final Duration TOLERANCE = Duration.ofMinutes(2);

  /** After connecting, the broker may take this long to hand over what it kept. */
  private static final Duration SETTLED = Duration.ofSeconds(60);

  private static final Duration OLDEST = Duration.ofDays(400);

  private SampleClock() {}

  /**
   * The three times of a sample.
   *
   * @param linkedSince since when this dashboard has been connected without a break
   */
  static SampleTimes times(
      DeviceMessage.Sample sample, Instant received, Optional<Instant> linkedSince) {
    Instant original = sample.time().instant(received);
    Duration age = age(sample);
    boolean wrong =
        sample.time() instanceof SampleTime.Ago
            ? original.isAfter(received)
            : original.isAfter(received.plus(TOLERANCE))
                || yearsBehind(sample, original.plus(age), received)
                || slow(original.plus(age), received, linkedSince);
    return new SampleTimes(original, wrong ? received.minus(age) : original, received);
  }

  /** Whether a device that counts its running time says that it sent this before any was kept. */
  private static boolean yearsBehind(DeviceMessage.Sample sample, Instant sent, Instant received) {
    return sample.sentUptimeSeconds().isPresent() && sent.isBefore(received.minus(OLDEST));
  }

  /** Whether a message cannot have been on its way since the time it says it was sent. */
  private static boolean slow(Instant sent, Instant received, Optional<Instant> linkedSince) {
    return sent.isBefore(received.minus(TOLERANCE))
        && linkedSince.isPresent()
        && linkedSince.get().isBefore(sent)
        && linkedSince.get().isBefore(received.minus(SETTLED));
  }

  /** How old the sample was when it was sent; zero when the device does not say. */
  private static Duration age(DeviceMessage.Sample sample) {
    if (sample.uptimeSeconds().isEmpty() || sample.sentUptimeSeconds().isEmpty()) {
      return Duration.ZERO;
    }
    double seconds =
        sample.sentUptimeSeconds().getAsDouble() - sample.uptimeSeconds().getAsDouble();
    return seconds > 0 && seconds <= OLDEST.toSeconds()
        ? Duration.ofMillis(Math.round(seconds * 1000))
        : Duration.ZERO;
  }

  /** The reason why a time cannot be kept, in words; empty when it can. */
  static Optional<String> objection(DeviceMessage.Sample sample) {
    return sample.time() instanceof SampleTime.Ago ago && ago.duration().compareTo(OLDEST) > 0
        ? Optional.of(
            "taken " + ago.duration().toDays() + " days before it was sent: must be 400 at most")
        : Optional.empty();
  }

  static boolean backlog(SampleTimes times) {
    return times.corrected().isBefore(times.received().minus(TOLERANCE));
  }
}
