/**
 * What a can of resin or gel coat says about itself, checked when it is read.
 *
 * <p>Must never read files, name a maker, or accept a system that the cure model knows nothing
 * about.
 */
@NullMarked
package org.layroom.predictor.material;

import org.jspecify.annotations.NullMarked;
