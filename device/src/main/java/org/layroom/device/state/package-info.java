/**
 * What the device keeps over a restart beside its outbox: the last decisions, the selected
 * material, the state of alarm and fan, the mold's thermometer, where samples are stored.
 */
@NullMarked
package org.layroom.device.state;

import org.jspecify.annotations.NullMarked;
