/**
 * How much catalyst, in which cups, for how long: the dose from a wanted working time, inside the
 * can's limits, as a syringe can show it.
 *
 * <p>Must never recommend a dose outside the can's limits, count in drops, or give a number where
 * nobody could know.
 */
@NullMarked
package org.layroom.predictor.mix;

import org.jspecify.annotations.NullMarked;
