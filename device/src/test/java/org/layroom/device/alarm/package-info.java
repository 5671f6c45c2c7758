/**
 * The alarm in the room on make-believe wires.
 *
 * <p>Must never wait for real time.
 */
@NullMarked
package org.layroom.device.alarm;

import org.jspecify.annotations.NullMarked;
