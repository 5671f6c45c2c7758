package org.layroom.predictor.exposure;

import java.time.Instant;

/**
 * One value of the air: ppm, or a level in times clean air. Levels are averaged, raw ticks never.
 *
 * @param time when it was measured
 * @param value ppm or times clean air, zero or more
 */
public record AirSample(Instant time, double value) {
  public AirSample {
    if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(
          "air value " + value + " must be zero or more (ppm or times clean air)");
    }
  }
}
