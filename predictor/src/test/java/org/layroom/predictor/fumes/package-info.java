/**
 * Checks of the room of the same name against outside sources.
 *
 * <p>Who may call in: nobody. What this room never does: take an expected value from the code that
 * it checks.
 */
@NullMarked
package org.layroom.predictor.fumes;

import org.jspecify.annotations.NullMarked;
