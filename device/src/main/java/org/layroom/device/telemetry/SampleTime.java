package org.layroom.device.telemetry;

import java.time.Duration;
import java.time.Instant;

/** When a sample was taken: an absolute time, or how long before the message was sent. */
public sealed interface SampleTime {
  record At(Instant instant) implements SampleTime {}

  /** Used while the device's clock is not set: RFC 8428 section 4.5.3, relative time. */
  record Ago(Duration duration) implements SampleTime {}

  /** The instant meant, for a receiver that got the message at {@code received}. */
  default Instant instant(Instant received) {
    if (this instanceof At at) {
      return at.instant();
    }
    return received.minus(((Ago) this).duration());
  }
}
