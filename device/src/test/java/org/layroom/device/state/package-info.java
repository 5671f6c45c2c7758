/** Tests of {@code device.state}. */
@NullMarked
package org.layroom.device.state;

import org.jspecify.annotations.NullMarked;
