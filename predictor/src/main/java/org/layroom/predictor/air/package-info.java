/**
 * Moist air: dew point and water content from temperature and relative humidity.
 *
 * <p>Who may call in: everybody. What this room never does: read a sensor, or judge a room.
 */
@NullMarked
package org.layroom.predictor.air;

import org.jspecify.annotations.NullMarked;
