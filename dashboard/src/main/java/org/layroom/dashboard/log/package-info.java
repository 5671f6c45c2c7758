/**
 * How a line of the log is written. Named in {@code tinylog.properties}; nobody calls it.
 *
 * <p>Never lets a text from outside begin a line, move a terminal's cursor or fill the disk.
 */
@NullMarked
package org.layroom.dashboard.log;

import org.jspecify.annotations.NullMarked;
