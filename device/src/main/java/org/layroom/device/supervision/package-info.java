/**
 * The word to whatever keeps the program running: that it is up, and that its work goes on.
 *
 * <p>Must never decide whether the work goes on, stop the program, or fail because nobody listens.
 */
@NullMarked
package org.layroom.device.supervision;

import org.jspecify.annotations.NullMarked;
