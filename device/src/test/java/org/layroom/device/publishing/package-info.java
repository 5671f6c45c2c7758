/**
 * The publisher against a real broker that comes and goes. Called by the build only; what these
 * tests never do: sleep, or depend on their order.
 */
@NullMarked
package org.layroom.device.publishing;

import org.jspecify.annotations.NullMarked;
