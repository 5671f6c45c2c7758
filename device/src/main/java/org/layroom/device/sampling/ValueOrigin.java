package org.layroom.device.sampling;

/** Where values come from, which decides what their past can be blamed for. */
public enum ValueOrigin {
  /** Real chips and simulated ones: their last digits are never still. */
  LIVE,
  /** A recording with a resolution of its own: standing still and starting up mean nothing. */
  RECORDING
}
