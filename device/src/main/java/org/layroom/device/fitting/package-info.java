/**
 * Which sensor is which: finds the chips and thermometers that are plugged in and gives them their
 * roles.
 */
@NullMarked
package org.layroom.device.fitting;

import org.jspecify.annotations.NullMarked;
