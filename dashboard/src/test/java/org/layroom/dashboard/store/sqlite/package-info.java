/** Tests of {@code dashboard.store.sqlite}. */
@NullMarked
package org.layroom.dashboard.store.sqlite;

import org.jspecify.annotations.NullMarked;
