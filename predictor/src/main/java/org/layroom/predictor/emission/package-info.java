/**
 * What a layup gives off and what the room does with it: emission rules, the room as a mixed box,
 * air changes, the fall of vapor after a job, and advice before a layup starts.
 *
 * <p>Never refuses a high result.
 */
@NullMarked
package org.layroom.predictor.emission;

import org.jspecify.annotations.NullMarked;
