/**
 * Tests of the room's own forecast, and the program that measures it against simple rules.
 *
 * <p>Must never take an expected value from the code under test.
 */
@NullMarked
package org.layroom.predictor.room;

import org.jspecify.annotations.NullMarked;
