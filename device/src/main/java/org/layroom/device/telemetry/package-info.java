/**
 * The contract between device and dashboard: topics, names and message bodies, and the one
 * translation of readings into events of the watch over the air.
 *
 * <p>Who may call in: the sampling, alarm and publishing rooms of {@code device} and all of {@code
 * dashboard}. What this room never does: talk to a broker, keep anything, or judge whether a value
 * is plausible.
 */
@NullMarked
package org.layroom.device.telemetry;

import org.jspecify.annotations.NullMarked;
