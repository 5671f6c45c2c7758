package org.layroom.dashboard.room;

import java.time.Duration;
import java.time.Instant;
import org.layroom.device.telemetry.DeviceName;
import org.layroom.device.telemetry.Reading;

/**
 * The newest reading of a series in a room.
 *
 * @param device who measured it
 * @param time corrected time of the reading
 * @param age how old it is now; does not jump with the wall clock
 */
public record LiveValue(
    DeviceName device, Reading reading, Instant time, Instant received, Duration age) {}
