/**
 * The HTTP side: the page's files, the API and the live events.
 *
 * <p>Who may call in: the command line, to start and stop it. What this room never does: compute an
 * answer itself, open the store, or listen beyond this machine.
 */
@NullMarked
package org.layroom.dashboard.web;

import org.jspecify.annotations.NullMarked;
