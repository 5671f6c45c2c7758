/** Tests of the simulated device as a whole. Called by the build only; never slept in. */
@NullMarked
package org.layroom.device.demo;

import org.jspecify.annotations.NullMarked;
