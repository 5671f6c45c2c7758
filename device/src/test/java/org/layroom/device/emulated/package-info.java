/**
 * The shipped device on an emulated Raspberry Pi 3B: real kernel, real Pi4J, simulated chips.
 *
 * <p>Must never run in the usual build, or say anything of real wires.
 */
@NullMarked
package org.layroom.device.emulated;

import org.jspecify.annotations.NullMarked;
