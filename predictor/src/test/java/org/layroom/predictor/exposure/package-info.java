/** Tests of {@code predictor.exposure}. */
@NullMarked
package org.layroom.predictor.exposure;

import org.jspecify.annotations.NullMarked;
