/**
 * Messages against the standard's own examples and rules. Called by the build only; what these
 * tests never do: sleep, or depend on their order.
 */
@NullMarked
package org.layroom.device.telemetry;

import org.jspecify.annotations.NullMarked;
