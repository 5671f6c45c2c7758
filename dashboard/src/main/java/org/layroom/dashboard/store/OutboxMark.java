package org.layroom.dashboard.store;

import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.StoredMark;

/** The stored mark of one outbox, with the device it belongs to. */
public record OutboxMark(Channel channel, StoredMark mark) {}
