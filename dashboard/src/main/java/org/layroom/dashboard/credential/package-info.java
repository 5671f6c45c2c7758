/**
 * Who may speak to the broker: one name and one random password for each device, kept as hashes in
 * a file of their own beside the store, in the form that mosquitto reads.
 *
 * <p>Who may call in: {@code broker} (to let in and to turn away), {@code room} and {@code answer};
 * {@code door} for files of the same kind. What this room never does: keep a device's password,
 * choose one that could be guessed, or put anything of it into a log, the store or a backup.
 */
@NullMarked
package org.layroom.dashboard.credential;

import org.jspecify.annotations.NullMarked;
