/**
 * Tests of the warnings upstairs, through simulated chips, a real broker and the store.
 *
 * <p>Who may call in: the test runner. What this room never does: wait a fixed time.
 */
@NullMarked
package org.layroom.dashboard.warning;

import org.jspecify.annotations.NullMarked;
