/**
 * The cure clocks: rate laws, their integrals along a temperature, and the stages of a layup with
 * an honest band.
 *
 * <p>Must never say that a part is cured, recommend a dose, or give a time beyond what the
 * temperature given supports without a band.
 */
@NullMarked
package org.layroom.predictor.cure;

import org.jspecify.annotations.NullMarked;
