/**
 * From message to committed reading: checked, timed, stored in batches, and only then acknowledged.
 *
 * <p>What this room never does: speak MQTT or SQL, or let a message stop it.
 */
@NullMarked
package org.layroom.dashboard.ingest;

import org.jspecify.annotations.NullMarked;
