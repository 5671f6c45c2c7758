/**
 * Small files that are replaced as a whole: one way for both floors, so that a power cut leaves the
 * old file or the new one and never half of either.
 *
 * <p>Must never know what is in a file, choose where it stands, or write in place.
 */
@NullMarked
package org.layroom.device.files;

import org.jspecify.annotations.NullMarked;
