/**
 * The wires: I2C, 1-wire and GPIO as small interfaces, so that a driver runs against a real bus, a
 * simulated chip and a recording alike.
 *
 * <p>Must never know a chip, or load Pi4J unless real hardware is asked for.
 */
@NullMarked
package org.layroom.device.bus;

import org.jspecify.annotations.NullMarked;
