/** Tests of {@code dashboard.ingest}. */
@NullMarked
package org.layroom.dashboard.ingest;

import org.jspecify.annotations.NullMarked;
