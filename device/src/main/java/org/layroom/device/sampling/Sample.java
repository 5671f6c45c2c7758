package org.layroom.device.sampling;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.layroom.device.telemetry.DeviceStatus.PartFault;
import org.layroom.device.telemetry.Reading;

/**
 * All readings of one moment, as measured.
 *
 * @param uptime running time of this start of the device
 * @param wall what the wall clock showed
 * @param wallClockSet whether it could be believed then
 * @param faults the sensors that do not work now
 */
public record Sample(
    Duration uptime,
    Instant wall,
    boolean wallClockSet,
    List<Reading> readings,
    List<PartFault> faults) {
  public Sample {
    readings = List.copyOf(readings);
    faults = List.copyOf(faults);
  }
}
