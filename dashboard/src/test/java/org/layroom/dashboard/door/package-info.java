/**
 * Tests of the house's door. Who may call in: nobody. What this room never does: send anything over
 * a network that is not this machine's own.
 */
@NullMarked
package org.layroom.dashboard.door;

import org.jspecify.annotations.NullMarked;
