/**
 * Recorded readings in CSV files: read row by row, bad rows named and counted, none fatal.
 *
 * <p>What this room never does: guess a value or a time.
 */
@NullMarked
package org.layroom.dashboard.recording;

import org.jspecify.annotations.NullMarked;
