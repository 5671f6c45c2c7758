/**
 * What a shop's own gel tests and a data sheet's table teach about one can.
 *
 * <p>Must never widen a band because of a test, or forget a can's drift by itself; a person
 * declares it.
 */
@NullMarked
package org.layroom.predictor.calibration;

import org.jspecify.annotations.NullMarked;
