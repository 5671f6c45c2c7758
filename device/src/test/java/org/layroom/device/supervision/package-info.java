/**
 * Checks of the word to systemd.
 *
 * <p>Who may call in: nobody. What this room never does: talk to a real systemd.
 */
@NullMarked
package org.layroom.device.supervision;

import org.jspecify.annotations.NullMarked;
