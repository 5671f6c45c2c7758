package org.layroom.dashboard.store;

import java.time.Instant;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;

/**
 * The newest reading of one device and series.
 *
 * @param time corrected time of the reading
 */
public record LatestReading(Channel channel, Reading reading, Instant time, Instant received) {}
