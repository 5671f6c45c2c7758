package org.layroom.dashboard.store;

import org.layroom.device.telemetry.Channel;

/** Sequence numbers of one outbox that are stored, without a gap; both ends are included. */
public record StoredRange(Channel channel, String outbox, long first, long last) {}
