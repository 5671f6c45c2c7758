/**
 * The word to whatever keeps the program running: that it is up, and that its work goes on.
 *
 * <p>Who may call in: whoever starts a device or a dashboard. What this room never does: decide
 * whether the work goes on, stop the program, or fail because nobody listens.
 */
@NullMarked
package org.layroom.device.supervision;

import org.jspecify.annotations.NullMarked;
