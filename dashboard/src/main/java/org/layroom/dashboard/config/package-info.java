/**
 * What the owner of the shop decides, read from a properties file and checked once.
 *
 * <p>What this room never does: look at the file again later, or fall back silently from a bad
 * value.
 */
@NullMarked
package org.layroom.dashboard.config;

import org.jspecify.annotations.NullMarked;
