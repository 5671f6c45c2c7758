/**
 * The alarm in the room on make-believe wires.
 *
 * <p>Who may call in: nobody. What this room never does: wait for real time.
 */
@NullMarked
package org.layroom.device.alarm;

import org.jspecify.annotations.NullMarked;
