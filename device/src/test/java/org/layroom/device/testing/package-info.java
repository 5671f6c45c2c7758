/**
 * What several tests need: a real broker, and a stand-in for the dashboard's end of the line.
 *
 * <p>Must never sleep, or take a fixed port.
 */
@NullMarked
package org.layroom.device.testing;

import org.jspecify.annotations.NullMarked;
