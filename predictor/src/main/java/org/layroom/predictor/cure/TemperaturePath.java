package org.layroom.predictor.cure;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A temperature over time from the moment of mixing: straight lines between points, the last value
 * held from there on, the first value held before the first point. Two points at one time make a
 * step.
 */
public final class TemperaturePath {
  private final double[] minutes;
  private final double[] temperatureC;
  private final PathBlocks blocks;

  private TemperaturePath(double[] minutes, double[] temperatureC) {
    this.minutes = minutes;
    this.temperatureC = temperatureC;
    blocks = new PathBlocks(minutes, temperatureC);
  }

  /**
   * One temperature for all time.
   *
   * @param temperatureC -60 to 200 degC
   */
  public static TemperaturePath constant(double temperatureC) {
    return of(List.of(new TemperaturePoint(0, temperatureC)));
  }

  /**
   * A path through points.
   *
   * @param points at least one, times from zero on and never falling
   */
  public static TemperaturePath of(List<TemperaturePoint> points) {
    if (points.isEmpty()) {
      throw new IllegalArgumentException("a temperature path needs at least one point");
    }
    if (points.get(0).minutes() < 0) {
      throw new IllegalArgumentException(
          "time " + points.get(0).minutes() + " min is before mixing: start at 0 min or later");
    }
    List<TemperaturePoint> all = new ArrayList<>(points.size() + 1);
    if (points.get(0).minutes() > 0) {
      all.add(new TemperaturePoint(0, points.get(0).temperatureC()));
    }
    all.addAll(points);
    double[] minutes = new double[all.size()];
    double[] temperatureC = new double[all.size()];
    for (int i = 0; i < minutes.length; i++) {
      minutes[i] = all.get(i).minutes();
      temperatureC[i] = all.get(i).temperatureC();
      if (i > 0 && minutes[i] < minutes[i - 1]) {
        throw new IllegalArgumentException(
            "time "
                + minutes[i]
                + " min comes after "
                + minutes[i - 1]
                + " min: sort the readings");
      }
    }
    return new TemperaturePath(minutes, temperatureC);
  }

  /**
   * This path until a time, and another from there: what was measured, then what is forecast. The
   * times of both count from mixing.
   *
   * @param fromMinutes when the other path takes over, zero or more
   */
  public TemperaturePath then(double fromMinutes, TemperaturePath forecast) {
    if (!(fromMinutes >= 0)) {
      throw new IllegalArgumentException("time " + fromMinutes + " min must be zero or more");
    }
    List<TemperaturePoint> all = new ArrayList<>();
    for (int i = 0; i < size() && minutes[i] < fromMinutes; i++) {
      all.add(new TemperaturePoint(minutes[i], temperatureC[i]));
    }
    all.add(new TemperaturePoint(fromMinutes, at(fromMinutes)));
    all.add(new TemperaturePoint(fromMinutes, forecast.at(fromMinutes)));
    for (int i = 0; i < forecast.size(); i++) {
      if (forecast.minutes[i] > fromMinutes) {
        all.add(new TemperaturePoint(forecast.minutes[i], forecast.temperatureC[i]));
      }
    }
    return of(all);
  }

  /**
   * The same course begun later: what is told from now on, told from mixing on.
   *
   * @param byMinutes how much later, zero or more
   */
  public TemperaturePath shifted(double byMinutes) {
    List<TemperaturePoint> later = new ArrayList<>(size());
    for (int i = 0; i < size(); i++) {
      later.add(new TemperaturePoint(minutes[i] + byMinutes, temperatureC[i]));
    }
    return of(later);
  }

  /** The temperature at a time, degC; at a step the later value. */
  public double at(double atMinutes) {
    int found = Arrays.binarySearch(minutes, atMinutes);
    if (found >= 0) {
      while (found + 1 < size() && minutes[found + 1] == atMinutes) {
        found++;
      }
      return temperatureC[found];
    }
    int after = -found - 1;
    if (after == 0) {
      return temperatureC[0];
    }
    if (after == size()) {
      return temperatureC[size() - 1];
    }
    double part = (atMinutes - minutes[after - 1]) / (minutes[after] - minutes[after - 1]);
    return temperatureC[after - 1] + part * (temperatureC[after] - temperatureC[after - 1]);
  }

  /** The mean temperature from mixing to a time, degC. */
  public double meanUntil(double untilMinutes) {
    if (!(untilMinutes > 0)) {
      return at(0);
    }
    double sum = 0;
    double from = 0;
    double fromC = temperatureC[0];
    for (int i = 1; i < size() && from < untilMinutes; i++) {
      double to = Math.min(minutes[i], untilMinutes);
      double toC = minutes[i] > untilMinutes ? at(untilMinutes) : temperatureC[i];
      sum += (to - from) * (fromC + toC) / 2;
      from = to;
      fromC = toC;
    }
    sum += (untilMinutes - from) * fromC;
    return sum / untilMinutes;
  }

  /** The lowest temperature of the path, degC. */
  double lowest() {
    return Arrays.stream(temperatureC).min().orElseThrow();
  }

  /** When the last point was, minutes after mixing. */
  public double endMinutes() {
    return minutes[size() - 1];
  }

  PathBlocks blocks() {
    return blocks;
  }

  int size() {
    return minutes.length;
  }

  double minutesAt(int index) {
    return minutes[index];
  }

  double temperatureAt(int index) {
    return temperatureC[index];
  }
}
