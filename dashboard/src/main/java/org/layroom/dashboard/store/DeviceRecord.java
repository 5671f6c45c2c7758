package org.layroom.dashboard.store;

import java.time.Instant;
import java.util.Optional;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceStatus;

/** A device that was ever heard of, with what it last said of itself. */
public record DeviceRecord(Channel channel, Optional<Said> said) {

  /**
   * A status and its times on the dashboard's clock.
   *
   * @param since when the dashboard first heard this very status
   * @param received when it last heard it
   */
  public record Said(DeviceStatus status, Instant since, Instant received) {}
}
