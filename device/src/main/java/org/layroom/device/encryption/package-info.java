/**
 * Encrypted connections: whose signature under a broker's certificate is believed, and why one is
 * not, in words that say what to change.
 *
 * <p>Must never believe a certificate that nobody named, or a name that it was not made for.
 */
@NullMarked
package org.layroom.device.encryption;

import org.jspecify.annotations.NullMarked;
