/**
 * Drivers: one chip, one file, register names as in the data sheet.
 *
 * <p>Must never throw on a failed read, make up a number, judge whether a value is likely, or wait
 * longer than the data sheet's conversion time, but for asking again after a bad answer ({@link
 * org.layroom.device.chip.Retries}).
 */
@NullMarked
package org.layroom.device.chip;

import org.jspecify.annotations.NullMarked;
