/**
 * Recorded readings in CSV files: read row by row, bad rows named and counted, none fatal.
 *
 * <p>Who may call in: the command line, the replay and the learned rooms. What this room never
 * does: guess a value or a time.
 */
@NullMarked
package org.layroom.dashboard.recording;

import org.jspecify.annotations.NullMarked;
