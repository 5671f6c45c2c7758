package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntToDoubleFunction;
import org.layroom.predictor.exposure.ExposureLimit;

/** A watch over a make-believe chip, fed second by second with a little noise on its ticks. */
final class WatchedChip {
  static final Instant START = Instant.parse("2026-03-02T08:00:00Z");
  static final double CLEAN = 30_000;
  static final AirEvent.Climate CLIMATE = new AirEvent.Climate(20, 50);
  private static final int EVERY_SECONDS = 10;

  private final List<AirWarning> raised = new ArrayList<>();
  private VaporWatch watch;
  private int second;

  WatchedChip(WatchSettings settings) {
    watch = VaporWatch.started(settings, START);
  }

  static WatchedChip inWorkRoom() {
    return new WatchedChip(
        WatchSettings.workRoom(
            VaporSensor.Chip.with(CleanAirReading.of(CLEAN, START.minus(Duration.ofDays(1))))));
  }

  static WatchedChip onHouseSide() {
    return new WatchedChip(
        WatchSettings.houseSide(
            VaporSensor.Chip.with(CleanAirReading.of(CLEAN, START.minus(Duration.ofDays(1))))));
  }

  static WatchedChip detector(ExposureLimit limit) {
    return new WatchedChip(WatchSettings.workRoom(new VaporSensor.Pid(limit, 0.45)));
  }

  Instant now() {
    return START.plusSeconds(second);
  }

  int second() {
    return second;
  }

  VaporWatch watch() {
    return watch;
  }

  List<AirWarning> raised() {
    return raised;
  }

  WatchedChip event(AirEvent event) {
    watch = watch.plus(event);
    watch.raised().ifPresent(raised::add);
    return this;
  }

  /** A raw signal now; a steady toggle of a few ticks stands for noise. */
  WatchedChip ticks(double ticks) {
    return event(new AirEvent.Ticks(now(), ticks, Optional.of(CLIMATE)));
  }

  /** A raw signal now, and the time until the next. */
  WatchedChip read(double ticks) {
    ticks(ticks);
    second += EVERY_SECONDS;
    return this;
  }

  /** A detector at its upper end now, and the time until the next reading. */
  WatchedChip detectorAtEnd() {
    event(new AirEvent.Ppm(now(), 6000, 6000 + noise() / 1000, true));
    second += EVERY_SECONDS;
    return this;
  }

  private double noise() {
    return second / EVERY_SECONDS % 2 == 0 ? 3 : -3;
  }

  WatchedChip level(int seconds, double timesCleanAir) {
    return level(seconds, at -> timesCleanAir);
  }

  /** The level at each second from now, read every ten. */
  WatchedChip level(int seconds, IntToDoubleFunction timesCleanAir) {
    for (int from = second; second < from + seconds; second += EVERY_SECONDS) {
      double level = timesCleanAir.applyAsDouble(second - from);
      ticks(Math.max(0, Math.min(65_000, CLEAN - 870 * Math.log(level) / Math.log(2) + noise())));
    }
    return this;
  }

  /** Styrene at each second from now, read every ten by a detector. */
  WatchedChip ppm(int seconds, IntToDoubleFunction ppm) {
    for (int from = second; second < from + seconds; second += EVERY_SECONDS) {
      double read = ppm.applyAsDouble(second - from) / 0.45;
      event(new AirEvent.Ppm(now(), read, read + noise() / 1000, false));
    }
    return this;
  }

  WatchedChip ppm(int seconds, double ppm) {
    return ppm(seconds, at -> ppm);
  }

  /** Nothing comes from the sensor. */
  WatchedChip silence(int seconds) {
    for (int from = second; second < from + seconds; second += EVERY_SECONDS) {
      event(new AirEvent.TimePassed(now()));
    }
    return this;
  }

  WatchedChip job(int hours, boolean fanAndRespirator) {
    return event(
        new AirEvent.JobStarted(
            now(), now().plusSeconds(3600L * hours), "Kim", fanAndRespirator, fanAndRespirator));
  }

  WatchedChip acknowledge() {
    return event(new AirEvent.Acknowledged(now(), watch.warning().orElseThrow().id(), "Kim"));
  }

  AirCall call() {
    return watch.call();
  }

  AirWarning warning() {
    return watch.warning().orElseThrow();
  }

  String words() {
    return String.join(" ", watch.words());
  }
}
