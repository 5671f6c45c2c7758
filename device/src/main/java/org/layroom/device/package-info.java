/** What is measured: sensors, sampling, outbox, publishing and the local alarm. */
@NullMarked
package org.layroom.device;

import org.jspecify.annotations.NullMarked;
