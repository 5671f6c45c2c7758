/** Material files, right and wrong. */
@NullMarked
package org.layroom.dashboard.material;

import org.jspecify.annotations.NullMarked;
