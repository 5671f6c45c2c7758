/**
 * The outbox against torn, flipped and missing bytes. Called by the build only; what these tests
 * never do: sleep, or depend on their order.
 */
@NullMarked
package org.layroom.device.outbox;

import org.jspecify.annotations.NullMarked;
