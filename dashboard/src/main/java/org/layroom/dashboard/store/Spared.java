package org.layroom.dashboard.store;

import java.time.Instant;
import org.layroom.device.telemetry.RoomName;

/** A stretch {@code [from, to)} of a room's past of which nothing is dropped. */
public record Spared(RoomName room, Instant from, Instant to) {
  public Spared {
    if (to.isBefore(from)) {
      throw new IllegalArgumentException("spared from " + from + " to " + to);
    }
  }
}
