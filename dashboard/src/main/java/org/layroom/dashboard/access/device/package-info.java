/**
 * Broker logins of devices and readers: one name and one random password each, kept as hashes in
 * mosquitto's format.
 *
 * <p>Never keeps a device's password, and never puts anything of it into a log, the store or a
 * backup.
 */
@NullMarked
package org.layroom.dashboard.access.device;

import org.jspecify.annotations.NullMarked;
