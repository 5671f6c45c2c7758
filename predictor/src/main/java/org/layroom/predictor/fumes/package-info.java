/**
 * Vapor in the air: averages over time, level against clean air, limits, the warning machine, the
 * air of a layup before it is started, and how well a room airs.
 *
 * <p>Who may call in: everybody. What this room never does: count missing time as clean air, turn a
 * raw VOC signal into ppm, show unknown as ok, or call any air safe.
 */
@NullMarked
package org.layroom.predictor.fumes;

import org.jspecify.annotations.NullMarked;
