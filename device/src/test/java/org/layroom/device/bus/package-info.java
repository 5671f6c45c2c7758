/**
 * Tests of what the kernel says about the buses.
 *
 * <p>Who may call in: nobody. What this room never does: need a real bus.
 */
@NullMarked
package org.layroom.device.bus;

import org.jspecify.annotations.NullMarked;
