/**
 * How hot a laminate or a cup gets: one state of cure, two lumps of heat. It explains and orders,
 * and warns; when a part may leave the mold is not its business.
 *
 * <p>Must never say that a part is cured, nor give a laminate's peak without its latest edge.
 */
@NullMarked
package org.layroom.predictor.heat;

import org.jspecify.annotations.NullMarked;
