/** Tests of {@code dashboard.mqtt}. */
@NullMarked
package org.layroom.dashboard.mqtt;

import org.jspecify.annotations.NullMarked;
