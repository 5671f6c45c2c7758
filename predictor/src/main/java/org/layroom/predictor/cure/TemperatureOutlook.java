package org.layroom.predictor.cure;

import java.util.List;

/**
 * How warm it was and may be: one path or several equally likely ones, each the measured
 * temperature so far and one forecast from there.
 *
 * @param paths at least one, all with times from mixing
 */
public record TemperatureOutlook(List<TemperaturePath> paths) {
  public TemperatureOutlook {
    if (paths.isEmpty()) {
      throw new IllegalArgumentException("an outlook needs at least one temperature path");
    }
    paths = List.copyOf(paths);
  }

  /** One path that is taken as it is. */
  public static TemperatureOutlook of(TemperaturePath path) {
    return new TemperatureOutlook(List.of(path));
  }

  /**
   * One temperature for all time.
   *
   * @param temperatureC -60 to 200 degC
   */
  public static TemperatureOutlook constant(double temperatureC) {
    return of(TemperaturePath.constant(temperatureC));
  }

  /** The mean of all paths from mixing to a time, degC. */
  public double meanUntil(double untilMinutes) {
    return paths.stream().mapToDouble(path -> path.meanUntil(untilMinutes)).average().orElseThrow();
  }

  /** The path for a share of the outlook: 0 is the first, just under 1 the last. */
  TemperaturePath path(double share) {
    return paths.get(Math.min(paths.size() - 1, (int) (share * paths.size())));
  }
}
