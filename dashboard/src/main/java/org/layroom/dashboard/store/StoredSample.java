package org.layroom.dashboard.store;

import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Position;
import org.layroom.device.telemetry.Reading;

/** One row of readings as it is kept, for export. */
public record StoredSample(
    Channel channel, SampleTimes times, Optional<Position> position, List<Reading> readings) {
  public StoredSample {
    readings = List.copyOf(readings);
  }
}
