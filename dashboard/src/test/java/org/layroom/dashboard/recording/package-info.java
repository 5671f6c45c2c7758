/** Recordings as people have them: odd times, broken rows, foreign columns. */
@NullMarked
package org.layroom.dashboard.recording;

import org.jspecify.annotations.NullMarked;
