/**
 * The mix check: warm, dry and aired enough to mix, with the reasons.
 *
 * <p>Must never guess a reading that is missing, or let a missing reading count as a good one.
 */
@NullMarked
package org.layroom.predictor.verdict;

import org.jspecify.annotations.NullMarked;
