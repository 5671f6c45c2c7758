/** Tests of {@code dashboard.store.salvage}. */
@NullMarked
package org.layroom.dashboard.store.salvage;

import org.jspecify.annotations.NullMarked;
