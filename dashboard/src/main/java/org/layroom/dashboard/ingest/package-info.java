/**
 * From message to committed reading: checked, timed, told to who watches the air, and committed in
 * batches as rare as a quiet room allows. What has an outbox is acknowledged on receipt, what has
 * none after its commit; a stored mark is said only after the commit.
 *
 * <p>What this room never does: speak MQTT or SQL, or let a message stop it.
 */
@NullMarked
package org.layroom.dashboard.ingest;

import org.jspecify.annotations.NullMarked;
