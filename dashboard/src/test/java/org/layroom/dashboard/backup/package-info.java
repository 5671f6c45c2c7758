/**
 * Backups made and put back, whole and damaged.
 *
 * <p>Who may call in: the test runner. What this room never does: take a figure from a backup for
 * granted that the store was not asked for.
 */
@NullMarked
package org.layroom.dashboard.backup;

import org.jspecify.annotations.NullMarked;
