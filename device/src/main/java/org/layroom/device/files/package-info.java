/**
 * Small files that are replaced as a whole: one way for both floors, so that a power cut leaves the
 * old file or the new one and never half of either.
 *
 * <p>Who may call in: every room of {@code device} and {@code dashboard} that keeps a small file.
 * What this room never does: know what is in a file, choose where it stands, or write in place.
 */
@NullMarked
package org.layroom.device.files;

import org.jspecify.annotations.NullMarked;
