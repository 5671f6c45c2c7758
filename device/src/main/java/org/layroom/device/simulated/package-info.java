/**
 * A make-believe shop with make-believe chips behind the bus, so that the demo and the tests run
 * the real drivers. All its numbers are invented.
 *
 * <p>Must never call the predictor (it would prove itself), call a driver, or read a clock.
 */
@NullMarked
package org.layroom.device.simulated;

import org.jspecify.annotations.NullMarked;
