/**
 * Tests of the learned rooms.
 *
 * <p>Nobody calls in. What this room never does: wait for a clock.
 */
@NullMarked
package org.layroom.dashboard.forecast;

import org.jspecify.annotations.NullMarked;
