/**
 * Who may open the page from another machine: pairing codes, sessions, host names, the page's
 * certificate.
 *
 * <p>Never keeps a code or a session token in readable form, never logs one, and lets nobody in
 * because something is broken.
 */
@NullMarked
package org.layroom.dashboard.access;

import org.jspecify.annotations.NullMarked;
