package org.layroom.predictor.room;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.layroom.predictor.air.MoistAir;

/** Turns an outlook into points and paths at the times asked for. */
final class SeriesForecastBuilder {
  private static final double TENTH = NormalScores.quantile(0.9);

  private final Instant at;
  private final int steps;

  SeriesForecastBuilder(Instant at, int steps) {
    this.at = at;
    this.steps = steps;
  }

  private double lead(SeriesOutlook outlook, int step) {
    double now = at.getEpochSecond() / (double) SlotSeries.SECONDS;
    return Math.max(0, now + step - outlook.slot());
  }

  List<ForecastPoint> points(SeriesOutlook outlook) {
    List<ForecastPoint> points = new ArrayList<>(steps);
    for (int s = 1; s <= steps; s++) {
      double lead = lead(outlook, s);
      SeriesOutlook.Spread spread = outlook.at(lead);
      points.add(
          new ForecastPoint(
              SeriesForecast.time(at, s),
              spread.value(-TENTH),
              spread.likely(),
              spread.value(TENTH)));
    }
    return points;
  }

  SeriesForecast course(SeriesOutlook outlook, Scores scores) {
    return new SeriesForecast(at, points(outlook), () -> paths(outlook, scores.draw()));
  }

  /** Draws the scores of a course's errors, path by path and hour by hour. */
  interface Scores {
    double[][] draw();
  }

  private double[][] paths(SeriesOutlook outlook, double[][] scores) {
    double[][] paths = new double[scores.length][steps];
    for (int s = 1; s <= steps; s++) {
      double lead = lead(outlook, s);
      SeriesOutlook.Spread spread = outlook.at(lead);
      int hour = Math.max(1, s / SlotSeries.PER_HOUR);
      double part = Math.max(0, (double) s / SlotSeries.PER_HOUR - hour);
      for (int p = 0; p < paths.length; p++) {
        double score = scores[p][hour] + part * (scores[p][hour + 1] - scores[p][hour]);
        paths[p][s - 1] = spread.value(score);
      }
    }
    return paths;
  }

  SeriesForecast humidity(
      SeriesOutlook air, Scores airScores, SeriesOutlook dewPoint, Scores dewScores) {
    SeriesForecast.Paths draw =
        () -> humidity(paths(air, airScores.draw()), paths(dewPoint, dewScores.draw()));
    double[][] paths = draw.draw();
    List<ForecastPoint> points = new ArrayList<>(steps);
    double[] all = new double[paths.length];
    for (int s = 0; s < steps; s++) {
      for (int p = 0; p < paths.length; p++) {
        all[p] = paths[p][s];
      }
      Arrays.sort(all);
      points.add(
          new ForecastPoint(
              SeriesForecast.time(at, s + 1),
              ErrorBand.quantile(all, 0.1),
              ErrorBand.quantile(all, 0.5),
              ErrorBand.quantile(all, 0.9)));
    }
    return new SeriesForecast(at, points, draw);
  }

  private static double[][] humidity(double[][] air, double[][] dewPoint) {
    double[][] paths = new double[air.length][];
    for (int p = 0; p < paths.length; p++) {
      paths[p] = new double[air[p].length];
      for (int s = 0; s < paths[p].length; s++) {
        paths[p][s] = humidity(air[p][s], dewPoint[p][s]);
      }
    }
    return paths;
  }

  private static double humidity(double temperatureC, double dewPointC) {
    double air = Math.max(-45, Math.min(60, temperatureC));
    double dew = Math.max(-45, Math.min(air, dewPointC));
    return 100 * MoistAir.saturationPressurePa(dew) / MoistAir.saturationPressurePa(air);
  }
}
