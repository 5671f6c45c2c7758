package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.layroom.dashboard.answer.LiveConditions;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.room.LiveValue;
import org.layroom.dashboard.room.RoomSnapshot;
import org.layroom.dashboard.store.Bucket;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.cure.TemperaturePath;
import org.layroom.predictor.cure.TemperaturePoint;

/** A mold as its sensor has measured it, carried on by what is expected of the room. */
public final class MeasuredMold implements MoldTemperature {
  private static final Duration BUCKET = Duration.ofMinutes(5);
  private static final int MOST_POINTS = 1000;

  /** What is expected from now on. */
  public interface Ahead {
    /**
     * The mold from now on, in minutes from now; empty while nothing can be said.
     *
     * @param nowC what it is now, degC
     */
    Optional<TemperatureOutlook> from(RoomName room, Instant now, double nowC);
  }

  private final DashboardCore core;
  private final Ahead ahead;

  public MeasuredMold(DashboardCore core, Ahead ahead) {
    this.core = core;
    this.ahead = ahead;
  }

  @Override
  public TemperatureOutlook since(
      RoomName room, List<String> molds, Instant mixed, double mixedC, Instant now) {
    List<TemperaturePoint> points = new ArrayList<>();
    points.add(new TemperaturePoint(0, mixedC));
    if (mixed.isBefore(now)) {
      series(core.snapshot(room), molds).ifPresent(series -> add(points, room, series, mixed, now));
    }
    TemperaturePath measured = TemperaturePath.of(points);
    double elapsed = Duration.between(mixed, now).toMillis() / 60_000.0;
    double nowC = points.get(points.size() - 1).temperatureC();
    return ahead
        .from(room, now, nowC)
        .map(outlook -> joined(measured, Math.max(0, elapsed), outlook))
        .orElseGet(() -> TemperatureOutlook.of(measured));
  }

  private static TemperatureOutlook joined(
      TemperaturePath measured, double elapsed, TemperatureOutlook ahead) {
    return new TemperatureOutlook(
        ahead.paths().stream().map(path -> measured.then(elapsed, path.shifted(elapsed))).toList());
  }

  private void add(
      List<TemperaturePoint> points, RoomName room, String series, Instant mixed, Instant now) {
    long buckets = Duration.between(mixed, now).toMinutes() / BUCKET.toMinutes();
    int count = (int) Math.max(1, Math.min(MOST_POINTS, buckets));
    for (Bucket bucket :
        core.store().history().between(room, series, mixed, now, count).buckets()) {
      Instant middle =
          bucket.from().plus(Duration.between(bucket.from(), bucket.to()).dividedBy(2));
      double minutes = Duration.between(mixed, middle).toMillis() / 60_000.0;
      if (minutes > 0 && bucket.mean() > -40 && bucket.mean() < 100) {
        points.add(new TemperaturePoint(minutes, bucket.mean()));
      }
    }
  }

  /** The sensor of this mold by name, else the coldest mold, else the air. */
  static Optional<String> series(RoomSnapshot room, List<String> molds) {
    for (String mold : molds) {
      String named = Series.MOLD_TEMPERATURE + "/" + mold.toLowerCase(Locale.ROOT);
      if (room.value(named).isPresent()) {
        return Optional.of(named);
      }
    }
    return LiveConditions.mold(room)
        .map(LiveValue::reading)
        .map(reading -> reading.name())
        .or(() -> room.value(Series.TEMPERATURE).map(value -> Series.TEMPERATURE));
  }
}
