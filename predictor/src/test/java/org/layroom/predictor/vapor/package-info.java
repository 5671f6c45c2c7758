/** Tests of {@code predictor.vapor}. */
@NullMarked
package org.layroom.predictor.vapor;

import org.jspecify.annotations.NullMarked;
