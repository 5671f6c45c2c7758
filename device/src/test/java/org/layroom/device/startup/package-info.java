/** Tests of {@code device.startup}. */
@NullMarked
package org.layroom.device.startup;

import org.jspecify.annotations.NullMarked;
