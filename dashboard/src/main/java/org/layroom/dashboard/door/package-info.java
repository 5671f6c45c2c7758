/**
 * Who may come in over the network: codes that are shown here and typed there, sessions of the
 * devices of people, the names that this house is called by, and its certificate.
 *
 * <p>Who may call in: {@code web} (to ask who comes), {@code answer} and {@code cli}. What this
 * room never does: keep a code or a session's token where it could be read again, put one into a
 * log, or let anybody in because something is broken.
 */
@NullMarked
package org.layroom.dashboard.door;

import org.jspecify.annotations.NullMarked;
