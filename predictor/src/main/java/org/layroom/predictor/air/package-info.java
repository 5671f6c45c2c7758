/**
 * Moist air: dew point and water content from temperature and relative humidity.
 *
 * <p>Must never read a sensor, or judge a room.
 */
@NullMarked
package org.layroom.predictor.air;

import org.jspecify.annotations.NullMarked;
