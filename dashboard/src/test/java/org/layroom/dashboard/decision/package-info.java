/** Tests of {@code dashboard.decision}. */
@NullMarked
package org.layroom.dashboard.decision;

import org.jspecify.annotations.NullMarked;
