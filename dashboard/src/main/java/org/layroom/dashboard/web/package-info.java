/**
 * The HTTP side: the page's files, the API and the live events.
 *
 * <p>What this room never does: compute an answer itself, open the store, or give anything of the
 * shop to somebody who is not paired.
 */
@NullMarked
package org.layroom.dashboard.web;

import org.jspecify.annotations.NullMarked;
