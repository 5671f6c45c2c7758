/**
 * When to start a layup in the next three days, from when to heat, and what airing costs.
 *
 * <p>Who may call in: everything upstairs. What this room never does: promise a time, plan outside
 * the material's limits, or advise heating without its caution.
 */
@NullMarked
package org.layroom.predictor.room.plan;

import org.jspecify.annotations.NullMarked;
