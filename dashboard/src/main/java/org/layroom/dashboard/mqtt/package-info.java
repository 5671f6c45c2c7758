/**
 * The dashboard's link to a broker, its own or the shop's. The only package that speaks MQTT.
 *
 * <p>Who may call in: {@code room}, which joins it to ingest. What this room never does: read a
 * payload, keep a reading, or acknowledge a message before it is told that it is stored.
 */
@NullMarked
package org.layroom.dashboard.mqtt;

import org.jspecify.annotations.NullMarked;
