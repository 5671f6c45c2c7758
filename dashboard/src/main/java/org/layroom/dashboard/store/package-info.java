/**
 * What is kept: readings, roll-ups, stored marks, rejected values, device states and events, in one
 * SQLite file. The only package that speaks SQL.
 *
 * <p>Who may call in: {@code ingest} (the one writer of readings), and {@code room}, {@code job},
 * {@code answer} and {@code web} for queries. What this room never does: judge a reading, read a
 * clock, or speak to a broker.
 */
@NullMarked
package org.layroom.dashboard.store;

import org.jspecify.annotations.NullMarked;
