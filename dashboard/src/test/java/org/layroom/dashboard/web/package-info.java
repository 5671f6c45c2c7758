/**
 * What is posted to the web server, tried without a socket.
 *
 * <p>Who may call in: nobody. What this room never does: open a port.
 */
@NullMarked
package org.layroom.dashboard.web;

import org.jspecify.annotations.NullMarked;
