package org.layroom.dashboard.store;

import org.layroom.device.telemetry.Reading;

/** A value that cannot be true, kept apart from the good ones with the reason in words. */
public record RejectedReading(Reading reading, String reason) {}
