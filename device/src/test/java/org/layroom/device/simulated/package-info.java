/**
 * The invented shop behaves as a shop does. Called by the build only; what these tests never do:
 * sleep, or depend on their order.
 */
@NullMarked
package org.layroom.device.simulated;

import org.jspecify.annotations.NullMarked;
