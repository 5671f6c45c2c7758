/**
 * The learned rooms: one forecaster for each room that is watched, kept up to date from what is
 * stored, off the threads that take readings in.
 *
 * <p>What this room never does: compute on the ingest thread, hold up the start, or forecast a room
 * it has not seen enough of.
 */
@NullMarked
package org.layroom.dashboard.forecast;

import org.jspecify.annotations.NullMarked;
