/**
 * The command line: words in, an answer out.
 *
 * <p>The answer alone goes to standard output, logs to standard error. Exit status 0: answered,
 * whatever the verdict; 2: refused input or no number possible; 1: failure. What this room never
 * does: compute an answer itself.
 */
@NullMarked
package org.layroom.dashboard.cli;

import org.jspecify.annotations.NullMarked;
