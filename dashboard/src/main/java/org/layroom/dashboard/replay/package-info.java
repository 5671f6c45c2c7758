/**
 * Replays: a recording sent through simulated chips, the real drivers, outbox, broker and store.
 *
 * <p>What this room never does: skip a step of the real path, or take a day's figures from anywhere
 * but the store.
 */
@NullMarked
package org.layroom.dashboard.replay;

import org.jspecify.annotations.NullMarked;
