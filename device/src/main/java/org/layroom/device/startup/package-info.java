/**
 * Starting, checking and pairing the device program. Composes everything else; nothing imports it.
 */
@NullMarked
package org.layroom.device.startup;

import org.jspecify.annotations.NullMarked;
