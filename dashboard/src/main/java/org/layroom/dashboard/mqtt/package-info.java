/**
 * The dashboard's link to a broker, its own or the shop's. The only package that speaks MQTT.
 *
 * <p>What this room never does: read a payload, keep a reading, or acknowledge a message before it
 * is told to, or keep on disk what is on its way.
 */
@NullMarked
package org.layroom.dashboard.mqtt;

import org.jspecify.annotations.NullMarked;
