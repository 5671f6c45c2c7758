package org.layroom.dashboard.store;

import java.time.Instant;

/**
 * The good values of one series in one stretch of time. A stretch without values has no bucket.
 *
 * @param from first instant of the stretch
 * @param to first instant after it
 * @param n how many values, 1 or more
 */
public record Bucket(Instant from, Instant to, double min, double mean, double max, long n) {}
