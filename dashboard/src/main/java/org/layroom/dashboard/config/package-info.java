/**
 * What the owner of the shop decides, read from a properties file and checked once.
 *
 * <p>Who may call in: the command line and what it starts. What this room never does: look at the
 * file again later, or fall back silently from a bad value.
 */
@NullMarked
package org.layroom.dashboard.config;

import org.jspecify.annotations.NullMarked;
