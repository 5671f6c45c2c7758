package org.layroom.predictor.exposure;

import java.time.Duration;

/**
 * An average over time that says how much of the time it has seen.
 *
 * @param value in the unit of the samples
 * @param covered the time with readings
 * @param atLeast true when time is missing, so that the true average may be higher: show it as "at
 *     least", with the hours covered
 */
public record AirAverage(double value, Duration covered, boolean atLeast) {}
