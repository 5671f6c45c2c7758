package org.layroom.dashboard.store;

import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.OutboxPosition;
import org.layroom.device.telemetry.Reading;

/** One row of readings as it is kept, for export. */
public record ArchivedSample(
    Channel channel, SampleTimes times, Optional<OutboxPosition> position, List<Reading> readings) {
  public ArchivedSample {
    readings = List.copyOf(readings);
  }
}
