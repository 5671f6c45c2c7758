/**
 * The drivers against their data sheets' own examples. Called by the build only; what these tests
 * never do: sleep, or depend on their order.
 */
@NullMarked
package org.layroom.device.chip;

import org.jspecify.annotations.NullMarked;
