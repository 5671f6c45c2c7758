/**
 * The message broker inside the dashboard, for shops that run none of their own.
 *
 * <p>What this room never does: read a message, keep one over its end, open a port beyond this
 * machine unasked, or load management, JMX or web parts.
 */
@NullMarked
package org.layroom.dashboard.broker;

import org.jspecify.annotations.NullMarked;
