/**
 * Checks of the word to systemd.
 *
 * <p>Must never talk to a real systemd.
 */
@NullMarked
package org.layroom.device.supervision;

import org.jspecify.annotations.NullMarked;
