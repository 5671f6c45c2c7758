/**
 * What people decide about the air of a room and tell its devices: settings, the job under way,
 * offsets of sensors, and who has seen a device's alarm. Kept, and told anew to a device that was
 * away.
 *
 * <p>Never judges the air and never calls {@code warning}.
 */
@NullMarked
package org.layroom.dashboard.decision;

import org.jspecify.annotations.NullMarked;
