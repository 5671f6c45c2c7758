/**
 * The sampler and its marks of doubt. Called by the build only; what these tests never do: sleep,
 * or depend on their order.
 */
@NullMarked
package org.layroom.device.sampling;

import org.jspecify.annotations.NullMarked;
