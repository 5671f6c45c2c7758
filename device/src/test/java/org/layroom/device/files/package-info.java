/** Tests of how small files are replaced. */
@NullMarked
package org.layroom.device.files;

import org.jspecify.annotations.NullMarked;
