/**
 * What the benchmarks share.
 *
 * <p>Who may call in: the benchmarks. What this room never does: decide whether a figure is good.
 */
@NullMarked
package org.layroom.predictor.bench;

import org.jspecify.annotations.NullMarked;
