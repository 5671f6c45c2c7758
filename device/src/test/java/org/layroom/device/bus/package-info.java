/**
 * Tests of what the kernel says about the buses.
 *
 * <p>Must never need a real bus.
 */
@NullMarked
package org.layroom.device.bus;

import org.jspecify.annotations.NullMarked;
