/**
 * Logins against the program whose form they have: the real mosquitto.
 *
 * <p>Who may call in: the test runner. What this room never does: take our own hash for the
 * expected one.
 */
@NullMarked
package org.layroom.dashboard.credential;

import org.jspecify.annotations.NullMarked;
