package org.layroom.predictor.room;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.cure.TemperaturePath;
import org.layroom.predictor.cure.TemperaturePoint;

/**
 * One quantity of the room from now on in steps of ten minutes: a line with a band to draw, and
 * equally likely paths for the clocks to run on.
 */
public final class SeriesForecast {
  /** Minutes between points. */
  public static final int STEP_MINUTES = 10;

  /** Time in which two thirds of a surprise have faded, common practice, no source. */
  private static final double FADING_MINUTES = 4 * 60;

  private final Instant at;
  private final List<ForecastPoint> points;
  private final Paths paths;
  private double @Nullable [][] drawn;

  /** Draws the paths of a course, the same ones every time: nearly a megabyte. */
  interface Paths {
    double[][] draw();
  }

  SeriesForecast(Instant at, List<ForecastPoint> points, Paths paths) {
    this.at = at;
    this.points = List.copyOf(points);
    this.paths = paths;
  }

  /** Most forecasts are never asked for their paths: they are drawn when that happens. */
  private synchronized double[][] paths() {
    double[][] all = drawn == null ? paths.draw() : drawn;
    drawn = all;
    return all;
  }

  static Instant time(Instant at, int step) {
    return at.plus(Duration.ofMinutes((long) STEP_MINUTES * step));
  }

  /** Points from ten minutes after the forecast's time on. */
  public List<ForecastPoint> points() {
    return points;
  }

  /** How many paths there are. */
  public int pathCount() {
    return RoomForecaster.PATHS;
  }

  /** The values of one path at the times of {@link #points()}. */
  public double[] path(int index) {
    return paths()[index].clone();
  }

  /**
   * The paths as the cure clocks take them, for temperatures only.
   *
   * @param mixing when the cup is mixed; not before the forecast's time
   * @param most use at most so many paths, evenly picked; at least 1
   */
  public TemperatureOutlook outlookFrom(Instant mixing, int most) {
    double late = Duration.between(at, mixing).toSeconds() / 60.0;
    if (late < 0 || late > (double) points.size() * STEP_MINUTES) {
      throw new IllegalArgumentException(
          "mixing at " + mixing + " must be inside the forecast from " + at);
    }
    double[][] all = paths();
    int stride = Math.max(1, (all.length + most - 1) / Math.max(1, most));
    List<TemperaturePath> outlook = new ArrayList<>();
    for (int p = 0; p < all.length; p += stride) {
      outlook.add(path(all[p], late));
    }
    return new TemperatureOutlook(outlook);
  }

  /**
   * The same, beginning with what is measured now: what the forecast did not know fades over some
   * hours, as a forecast's errors do.
   *
   * @param nowC what is measured at {@code mixing}, degC
   */
  public TemperatureOutlook outlookFrom(Instant mixing, int most, double nowC) {
    TemperatureOutlook outlook = outlookFrom(mixing, most);
    double off =
        nowC - outlook.paths().stream().mapToDouble(path -> path.at(0)).average().orElseThrow();
    return new TemperatureOutlook(
        outlook.paths().stream().map(path -> fading(path, off, nowC)).toList());
  }

  private TemperaturePath fading(TemperaturePath path, double off, double nowC) {
    List<TemperaturePoint> all = new ArrayList<>();
    all.add(new TemperaturePoint(0, nowC));
    for (int step = 1; step * STEP_MINUTES <= path.endMinutes(); step++) {
      double minutes = (double) step * STEP_MINUTES;
      double left = off * StrictMath.exp(-minutes / FADING_MINUTES);
      all.add(new TemperaturePoint(minutes, path.at(minutes) + left));
    }
    return TemperaturePath.of(all);
  }

  private TemperaturePath path(double[] values, double late) {
    List<TemperaturePoint> all = new ArrayList<>();
    int first = Math.min(points.size() - 1, (int) Math.floor(late / STEP_MINUTES));
    for (int i = first; i < points.size(); i++) {
      double minutes = (double) (i + 1) * STEP_MINUTES - late;
      all.add(new TemperaturePoint(Math.max(0, minutes), values[i]));
    }
    return TemperaturePath.of(all);
  }
}
