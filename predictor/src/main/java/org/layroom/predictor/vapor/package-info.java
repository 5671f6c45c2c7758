/**
 * The warning machine: what one vapor sensor has told, thresholds, and one pure step from state and
 * event to state. Device and dashboard run the same step.
 *
 * <p>Never shows unknown as ok and never turns a raw VOC signal into ppm.
 */
@NullMarked
package org.layroom.predictor.vapor;

import org.jspecify.annotations.NullMarked;
