/**
 * The one place that imports Pi4J.
 *
 * <p>Loaded by {@link org.layroom.device.bus.Hardware#open()}, by name. Must never know a chip,
 * retry, or swallow a failed transfer.
 */
@NullMarked
package org.layroom.device.bus.pi4j;

import org.jspecify.annotations.NullMarked;
