package org.layroom.dashboard.store;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import org.layroom.device.telemetry.DeviceName;

/**
 * A down-sampled series of one device.
 *
 * @param device who measured it; empty when no device in the room has this series
 * @param bucketWidth time covered by one bucket
 * @param buckets in order of time; gaps in the readings are gaps here
 */
public record SeriesHistory(
    Optional<DeviceName> device, Duration bucketWidth, List<Bucket> buckets) {
  public SeriesHistory {
    buckets = List.copyOf(buckets);
  }
}
