/**
 * Tells one address of the house what should be heard outside the room: warnings that begin and
 * end, and windows of parts that open and close. Nothing is sent unless the owner names the
 * address.
 *
 * <p>Never the only way to hear of a warning: the device sounds by itself.
 */
@NullMarked
package org.layroom.dashboard.announce;

import org.jspecify.annotations.NullMarked;
