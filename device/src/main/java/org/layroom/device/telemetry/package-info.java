/**
 * The contract between device and dashboard: topics, names and message bodies, and the one
 * translation of readings into events of the watch over the air.
 *
 * <p>Must never talk to a broker, keep anything, or judge whether a value is plausible.
 */
@NullMarked
package org.layroom.device.telemetry;

import org.jspecify.annotations.NullMarked;
