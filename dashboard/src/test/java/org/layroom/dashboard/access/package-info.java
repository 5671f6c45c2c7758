/** Tests of {@code dashboard.access}. */
@NullMarked
package org.layroom.dashboard.access;

import org.jspecify.annotations.NullMarked;
