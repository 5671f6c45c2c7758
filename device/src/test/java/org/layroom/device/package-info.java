/** Tests of the device as it is shipped. Called by the build only; never slept in. */
@NullMarked
package org.layroom.device;

import org.jspecify.annotations.NullMarked;
