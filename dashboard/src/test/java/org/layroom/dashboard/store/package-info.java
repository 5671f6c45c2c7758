/** Tests of {@code dashboard.store}. */
@NullMarked
package org.layroom.dashboard.store;

import org.jspecify.annotations.NullMarked;
