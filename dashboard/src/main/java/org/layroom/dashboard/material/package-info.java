/**
 * Material files: one JSON object for one can, read into the predictor's records and checked there.
 *
 * <p>What this room never does: fill in a value that is missing from a file without saying so, or
 * guess a misspelled field.
 */
@NullMarked
package org.layroom.dashboard.material;

import org.jspecify.annotations.NullMarked;
