/**
 * A whole simulated device for the demo and for replays: simulated chips, and behind them the real
 * drivers, sampler, outbox and publisher.
 *
 * <p>Must never skip a step of the real path, or pretend that its numbers were measured.
 */
@NullMarked
package org.layroom.device.demo;

import org.jspecify.annotations.NullMarked;
