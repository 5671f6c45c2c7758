/** Tests of {@code device.config}. */
@NullMarked
package org.layroom.device.config;

import org.jspecify.annotations.NullMarked;
