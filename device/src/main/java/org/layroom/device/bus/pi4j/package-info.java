/**
 * The one place that imports Pi4J.
 *
 * <p>Who may call in: only {@link org.layroom.device.bus.Hardware#open()}, by name. What this room
 * never does: know a chip, retry, or swallow a failed transfer.
 */
@NullMarked
package org.layroom.device.bus.pi4j;

import org.jspecify.annotations.NullMarked;
