package org.layroom.dashboard.store;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceStatus;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/** One thing to commit. Committing it a second time changes nothing. */
public sealed interface StoreEntry {

  /** The device it came from. */
  Channel channel();

  /**
   * All readings of one moment.
   *
   * @param position empty for a client without an outbox: then device, original time and name are
   *     the key
   * @param readings possible values, faults and texts
   * @param rejected impossible values
   */
  record Sample(
      Channel channel,
      Optional<OutboxPosition> position,
      SampleTimes times,
      List<Reading> readings,
      List<RejectedReading> rejected)
      implements StoreEntry {
    public Sample {
      readings = List.copyOf(readings);
      rejected = List.copyOf(rejected);
    }
  }

  /** Sequence numbers that no longer exist on the device and count as done. */
  record Lost(Channel channel, String outbox, long first, long last, Instant received)
      implements StoreEntry {}

  /** What a device said of itself. */
  record Status(Channel channel, DeviceStatus status, Instant received) implements StoreEntry {}
}
