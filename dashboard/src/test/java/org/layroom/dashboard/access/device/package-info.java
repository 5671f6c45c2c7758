/** Tests of {@code dashboard.access.device}. */
@NullMarked
package org.layroom.dashboard.access.device;

import org.jspecify.annotations.NullMarked;
