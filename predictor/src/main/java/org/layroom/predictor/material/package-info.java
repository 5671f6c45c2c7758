/**
 * What a can of resin or gel coat says about itself, checked when it is read.
 *
 * <p>Who may call in: everybody; files are read upstairs and handed in as a {@link
 * org.layroom.predictor.material.MaterialDraft}. What this room never does: read files, name a
 * maker, or accept a system that the cure model knows nothing about.
 */
@NullMarked
package org.layroom.predictor.material;

import org.jspecify.annotations.NullMarked;
