package org.layroom.dashboard.store;

import java.time.Instant;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Reading;

/** A value that was kept as rejected. */
public record RejectedRecord(
    Channel channel, Instant original, Instant received, Reading reading, String reason) {}
