/** Tests of {@code device.fitting}. */
@NullMarked
package org.layroom.device.fitting;

import org.jspecify.annotations.NullMarked;
