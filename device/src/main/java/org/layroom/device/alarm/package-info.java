/**
 * Lamps, buzzer and mute button on the Pi itself, driven by the predictor's warning machine: they
 * work with the network and the dashboard gone.
 *
 * <p>Must never wait for the network or a disk, light the lamp of ready to mix for what is unknown,
 * or keep a call to leave silent for more than ten minutes because of the button.
 */
@NullMarked
package org.layroom.device.alarm;

import org.jspecify.annotations.NullMarked;
