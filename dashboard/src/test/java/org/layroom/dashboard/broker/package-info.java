/** Tests of {@code dashboard.broker}. */
@NullMarked
package org.layroom.dashboard.broker;

import org.jspecify.annotations.NullMarked;
