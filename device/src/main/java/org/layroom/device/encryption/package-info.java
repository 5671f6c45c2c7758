/**
 * Encrypted connections: whose signature under a broker's certificate is believed, and why one is
 * not, in words that say what to change.
 *
 * <p>Who may call in: whatever connects to a broker, of the device and of the dashboard. What this
 * room never does: believe a certificate that nobody named, or a name that it was not made for.
 */
@NullMarked
package org.layroom.device.encryption;

import org.jspecify.annotations.NullMarked;
