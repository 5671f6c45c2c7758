/**
 * What is kept and how it is asked for: readings, roll-ups and how long they are kept, stored
 * marks, rejected values, device states and events. {@code store.sqlite} keeps it, {@code
 * store.salvage} opens and mends it.
 *
 * <p>Never judges a reading, reads a clock, speaks to a broker, or says how it is kept.
 */
@NullMarked
package org.layroom.dashboard.store;

import org.jspecify.annotations.NullMarked;
