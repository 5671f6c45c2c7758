/**
 * One file that holds what a shop would miss: a consistent copy of the store and the shop's own
 * materials, each with its SHA-256, made while the dashboard runs and put back on any machine.
 *
 * <p>What this room never does: take a password, a key or a session along, or overwrite anything
 * that was not set aside first.
 */
@NullMarked
package org.layroom.dashboard.backup;

import org.jspecify.annotations.NullMarked;
