/**
 * What several tests need: a real broker, and a stand-in for the dashboard's end of the line.
 *
 * <p>Who may call in: tests of this floor. What this room never does: sleep, or take a fixed port.
 */
@NullMarked
package org.layroom.device.testing;

import org.jspecify.annotations.NullMarked;
