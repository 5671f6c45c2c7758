/**
 * Getting samples to the broker, and sending each again until the dashboard says that it is stored.
 *
 * <p>Must never wait inside a callback of the MQTT client, forget a sample that is not stored, or
 * change a value. The one place of this floor that imports Paho. Transport timers run on real time.
 */
@NullMarked
package org.layroom.device.publishing;

import org.jspecify.annotations.NullMarked;
