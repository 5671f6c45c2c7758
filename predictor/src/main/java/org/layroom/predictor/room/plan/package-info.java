/**
 * When to start a layup in the next three days, from when to heat, and what airing costs.
 *
 * <p>Must never promise a time, plan outside the material's limits, or advise heating without its
 * caution.
 */
@NullMarked
package org.layroom.predictor.room.plan;

import org.jspecify.annotations.NullMarked;
