/**
 * Reading all chips on a schedule and saying how far each value can be believed.
 *
 * <p>Must never keep or send a sample, average, smooth or repair a value, or let one failing chip
 * stop the others.
 */
@NullMarked
package org.layroom.device.sampling;

import org.jspecify.annotations.NullMarked;
