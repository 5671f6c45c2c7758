/**
 * Layup jobs from mold preparation to demold, as append-only events: what was tapped, when, and in
 * what room. A job is what its events make of it; undo, history and two tablets come from that.
 *
 * <p>What this room never does: forget an event, change one, or take the same tap twice.
 */
@NullMarked
package org.layroom.dashboard.job;

import org.jspecify.annotations.NullMarked;
