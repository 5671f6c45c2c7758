/**
 * When a part is hard enough to leave the mold: a wide belief at first, moved by the can, the dose
 * and the thinnest place, and narrowed by what became of earlier parts.
 *
 * <p>Must never say that a part is cured, nor give a single hour.
 */
@NullMarked
package org.layroom.predictor.hardening;

import org.jspecify.annotations.NullMarked;
