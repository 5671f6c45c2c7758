/**
 * Workplace limits and averages of the air: quarter of an hour, eight hours, mixtures, and styrene
 * from grams to ppm.
 *
 * <p>Never counts missing time as clean air and never calls an exposure safe.
 */
@NullMarked
package org.layroom.predictor.exposure;

import org.jspecify.annotations.NullMarked;
