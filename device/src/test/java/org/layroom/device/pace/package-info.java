/**
 * The three paces keep their promises. Called by the build only; what these tests never do: sleep,
 * or depend on their order.
 */
@NullMarked
package org.layroom.device.pace;

import org.jspecify.annotations.NullMarked;
