/** Tests of the log's lines. */
@NullMarked
package org.layroom.dashboard.log;

import org.jspecify.annotations.NullMarked;
