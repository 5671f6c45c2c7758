/**
 * Time: the one place where a clock is read, a task is scheduled or a thread waits.
 *
 * <p>Must never decide anything. Transport timers (MQTT keep-alive, reconnect) always run on a
 * {@link org.layroom.device.pace.RealPace}, whatever pace the room runs on.
 */
@NullMarked
package org.layroom.device.pace;

import org.jspecify.annotations.NullMarked;
