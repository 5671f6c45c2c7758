/**
 * The shop limits in one place, and the form in which a refusal or a warning is given.
 *
 * <p>Must never decide; it only holds numbers with their sources, and words.
 */
@NullMarked
package org.layroom.predictor.limits;

import org.jspecify.annotations.NullMarked;
