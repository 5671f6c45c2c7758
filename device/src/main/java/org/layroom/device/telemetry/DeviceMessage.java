package org.layroom.device.telemetry;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** What can stand in one message on a device's {@code readings} topic. */
public sealed interface DeviceMessage {

  /**
   * All readings of one moment.
   *
   * @param position empty for a plain client that keeps no outbox
   * @param uptimeSeconds the device's running time when the sample was taken
   * @param sentUptimeSeconds the same clock when the message was sent: the difference is the
   *     sample's age at sending, which no jump of the wall clock can falsify
   */
  record Sample(
      SampleTime time,
      Optional<OutboxPosition> position,
      OptionalDouble uptimeSeconds,
      OptionalDouble sentUptimeSeconds,
      List<Reading> readings)
      implements DeviceMessage {
    public Sample {
      readings = List.copyOf(readings);
    }
  }

  /**
   * A stretch of an outbox that no longer exists on the device (thinned after a long outage, or
   * unreadable on its card), so that nobody waits for it.
   */
  record Lost(String outbox, long first, long last) implements DeviceMessage {
    public Lost {
      if (first < 1 || last < first) {
        throw new IllegalArgumentException("lost range " + first + " to " + last);
      }
    }
  }
}
