package org.layroom.predictor.room;

import java.time.Instant;

/**
 * What is expected at one time: 10, 50 and 90 % points, in degC or % relative humidity.
 *
 * @param time ten minutes apart
 * @param p10 one in ten lies below
 * @param p50 likely
 * @param p90 one in ten lies above
 */
public record ForecastPoint(Instant time, double p10, double p50, double p90) {}
