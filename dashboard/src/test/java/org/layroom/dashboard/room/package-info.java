/** Tests of {@code dashboard.room}. */
@NullMarked
package org.layroom.dashboard.room;

import org.jspecify.annotations.NullMarked;
