package org.layroom.device.outbox;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.layroom.device.telemetry.Reading;

/**
 * One sample with its place in the outbox.
 *
 * @param sequence counts from 1 over the outbox's whole life
 * @param boot which start of the device measured it: uptimes compare only within one
 * @param uptime running time of that start
 * @param wall what the wall clock showed
 * @param wallClockSet whether it could be believed then
 */
public record OutboxSample(
    long sequence,
    String boot,
    Duration uptime,
    Instant wall,
    boolean wallClockSet,
    List<Reading> readings) {
  public OutboxSample {
    readings = List.copyOf(readings);
  }
}
