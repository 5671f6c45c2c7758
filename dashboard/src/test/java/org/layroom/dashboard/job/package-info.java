/**
 * Tests of jobs as events.
 *
 * <p>Who may call in: nobody. What this room never does: start a process or open a port.
 */
@NullMarked
package org.layroom.dashboard.job;

import org.jspecify.annotations.NullMarked;
