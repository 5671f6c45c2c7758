/**
 * The live picture of each room, and the dashboard's core that joins broker, link, ingest and
 * store.
 *
 * <p>What this room never does: decide whether to mix, warn or ventilate; it says what is known and
 * how old it is.
 */
@NullMarked
package org.layroom.dashboard.room;

import org.jspecify.annotations.NullMarked;
