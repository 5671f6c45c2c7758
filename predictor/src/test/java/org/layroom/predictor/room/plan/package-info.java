/**
 * Tests of the start planner, of what heating buys and of what airing costs.
 *
 * <p>Nobody calls in. What this room never does: take an expected value from the code under test.
 */
@NullMarked
package org.layroom.predictor.room.plan;

import org.jspecify.annotations.NullMarked;
