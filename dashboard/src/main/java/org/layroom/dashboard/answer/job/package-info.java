/**
 * What jobs look like from outside: their clocks on the measured mold, what comes next, which
 * windows close, and what the record of a finished part can say about what went wrong.
 *
 * <p>What this room never does: keep anything of its own, or give a verdict where it has only
 * possibilities.
 */
@NullMarked
package org.layroom.dashboard.answer.job;

import org.jspecify.annotations.NullMarked;
