/** Tests of {@code dashboard}. */
@NullMarked
package org.layroom.dashboard;

import org.jspecify.annotations.NullMarked;
