/** Tests of {@code dashboard.app}. */
@NullMarked
package org.layroom.dashboard.app;

import org.jspecify.annotations.NullMarked;
