/**
 * Warnings about the air: one watch for each device that measures vapor, fed with stored live
 * readings only; which warnings are open, who has seen them, and what is decided for the devices.
 *
 * <p>Who may call in: {@code job}, {@code answer}, {@code web} and {@code cli}. What this room
 * never does: raise a warning for an old reading, show unknown as ok, tell ppm of a metal-oxide
 * chip, or keep a device from sounding its own alarm.
 */
@NullMarked
package org.layroom.dashboard.warning;

import org.jspecify.annotations.NullMarked;
