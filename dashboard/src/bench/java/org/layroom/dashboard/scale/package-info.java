/** How fast the store is, and how large: benchmarks, run by hand. See STORE.md. */
@NullMarked
package org.layroom.dashboard.scale;

import org.jspecify.annotations.NullMarked;
