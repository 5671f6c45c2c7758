/** Tests of {@code predictor.emission}. */
@NullMarked
package org.layroom.predictor.emission;

import org.jspecify.annotations.NullMarked;
