/**
 * Checks of the room of the same name against outside sources.
 *
 * <p>Must never take an expected value from the code that it checks.
 */
@NullMarked
package org.layroom.predictor.heat;

import org.jspecify.annotations.NullMarked;
