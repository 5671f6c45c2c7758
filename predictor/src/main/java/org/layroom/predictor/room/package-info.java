/**
 * The room's own forecast: air and mold temperature and humidity for the next three days, learned
 * from this room's readings alone, as equally likely paths with an honest band.
 *
 * <p>Must never look at a reading after the time asked for, make up a number where there is too
 * little history, or know what a heater will be set to.
 */
@NullMarked
package org.layroom.predictor.room;

import org.jspecify.annotations.NullMarked;
