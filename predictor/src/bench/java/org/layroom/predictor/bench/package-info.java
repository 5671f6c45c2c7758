/**
 * What the benchmarks share.
 *
 * <p>Must never decide whether a figure is good.
 */
@NullMarked
package org.layroom.predictor.bench;

import org.jspecify.annotations.NullMarked;
