/**
 * Figures with units as people type them, at the command line, in a request or on the page.
 *
 * <p>What this room never does: guess a unit that could be misread.
 */
@NullMarked
package org.layroom.dashboard.quantity;

import org.jspecify.annotations.NullMarked;
