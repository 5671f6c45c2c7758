/** Settings files with right and wrong values. */
@NullMarked
package org.layroom.dashboard.config;

import org.jspecify.annotations.NullMarked;
