/**
 * What was measured and is not yet known to be stored upstairs: numbered, checked and on disk.
 *
 * <p>Must never give one number to two samples, lose a readable sample because a neighbor is
 * damaged, talk to a broker, or judge a value.
 */
@NullMarked
package org.layroom.device.outbox;

import org.jspecify.annotations.NullMarked;
