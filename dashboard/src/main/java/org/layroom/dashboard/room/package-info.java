/**
 * The live picture of each room, and the dashboard's core that joins broker, link, ingest and
 * store.
 *
 * <p>Who may call in: {@code job}, {@code warning}, {@code answer}, {@code web} and {@code cli}.
 * What this room never does: decide whether to mix, warn or ventilate; it says what is known and
 * how old it is.
 */
@NullMarked
package org.layroom.dashboard.room;

import org.jspecify.annotations.NullMarked;
