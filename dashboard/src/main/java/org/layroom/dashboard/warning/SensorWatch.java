package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.Channel;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.vapor.BumpResult;
import org.layroom.predictor.vapor.BumpTest;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.CupRise;
import org.layroom.predictor.vapor.SensorProof;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.VocLevel;
import org.tinylog.Logger;

/**
 * Whether one device's vapor sensor still senses vapor: its bump test, the rise that a cup must
 * bring, its age and hours. Not for several threads.
 */
final class SensorWatch {
  private static final Duration MINUTE = Duration.ofMinutes(1);
  private static final Duration KEPT_AGAIN = Duration.ofHours(1);

  /** A longer pause between two samples is time in which nobody knows whether it was on. */
  private static final Duration LONGEST_PAUSE = Duration.ofSeconds(90);

  /** What a device may have kept in its outbox; an earlier time is a wrong clock. */
  private static final Duration LONGEST_BACKLOG = Duration.ofDays(60);

  /** What a rise in a job is to a detector, ppm as styrene (this project's own choice). */
  private static final double RISE_PPM = 5;

  private final Channel channel;
  private final SensorStore store;
  private final WatchClock clock;
  private SensorLife life;
  private Optional<BumpRun> run = Optional.empty();
  private Optional<CupRise> cup = Optional.empty();
  private Optional<Instant> sampled = Optional.empty();
  private Optional<Instant> looked = Optional.empty();
  private Optional<Instant> predicted = Optional.empty();
  private Duration unkept = Duration.ZERO;

  SensorWatch(Channel channel, SensorStore store, WatchClock clock) {
    this.channel = channel;
    this.store = store;
    this.clock = clock;
    life = store.life(channel, clock.wall());
  }

  Channel channel() {
    return channel;
  }

  SensorLife life() {
    return life;
  }

  /** Why its readings are not believed, in words. */
  Optional<String> doubt() {
    return life.proof().doubt();
  }

  /** Somebody put this sensor in for another: its age, hours and tests begin anew. */
  void fitted(String saidAs, String who) {
    run = Optional.empty();
    cup = Optional.empty();
    store.fitted(channel, saidAs, who, clock.wall(), life);
    life = new SensorLife(SensorProof.fitted(clock.wall()), Duration.ZERO, Optional.empty());
    keep();
  }

  /** A sample with vapor readings came in. */
  void sampled(Instant time) {
    Duration gap = sampled.map(before -> Duration.between(before, time)).orElse(Duration.ZERO);
    sampled = Optional.of(time);
    Instant wall = clock.wall(time);
    if (wall.isBefore(life.proof().since()) && wall.isAfter(clock.wall().minus(LONGEST_BACKLOG))) {
      life = life.with(life.proof().heardSince(wall));
    }
    if (gap.isNegative() || gap.compareTo(LONGEST_PAUSE) > 0) {
      return;
    }
    life = life.longerOn(gap);
    unkept = unkept.plus(gap);
    if (unkept.compareTo(KEPT_AGAIN) >= 0) {
      keepHours();
    }
  }

  /** The device's watch has stepped. */
  void stepped(VaporWatch watch) {
    if (run.isPresent()) {
      BumpRun next = watch.newest().map(run.get()::plus).orElse(run.get());
      run = Optional.of(next);
      next.result(watch.now()).ifPresent(result -> through(next, result));
    }
    if (looked.filter(at -> watch.now().isBefore(at.plus(MINUTE))).isEmpty()) {
      looked = Optional.of(watch.now());
      level(watch).ifPresent(level -> minute(watch, level));
      settleCup(watch.now());
    }
  }

  private static Optional<Double> level(VaporWatch watch) {
    return watch.doubtsBesideATest().isEmpty()
        ? watch.lastMinute().map(AirAverage::value)
        : Optional.empty();
  }

  private void minute(VaporWatch watch, double level) {
    VaporSensor sensor = watch.settings().sensor();
    cup = cup.map(one -> one.level(sensor, level));
    boolean up = level >= (sensor instanceof VaporSensor.Pid ? RISE_PPM : VocLevel.RISE_FROM);
    if (up && watch.inJob() && run.isEmpty()) {
      rose();
    }
  }

  private void settleCup(Instant now) {
    if (cup.filter(one -> one.over(now)).isEmpty()) {
      return;
    }
    if (cup.filter(CupRise::risen).isPresent()) {
      rose();
    } else if (cup.filter(one -> one.missed(now)).isPresent()) {
      proof(life.proof().missedARise(clock.wall()));
    }
    cup = Optional.empty();
  }

  /** Kept at most once an hour, unless it ends a doubt. */
  private void rose() {
    boolean known =
        doubt().isEmpty()
            && life.proof()
                .rise()
                .filter(at -> Duration.between(at, clock.wall()).compareTo(KEPT_AGAIN) < 0)
                .isPresent();
    if (!known) {
      proof(life.proof().rose(clock.wall()));
    }
  }

  private void proof(SensorProof next) {
    life = life.with(next);
    keep();
  }

  /** Keeps the hours that were counted; a store that cannot take them loses nothing else. */
  void keepHours() {
    try {
      keep();
    } catch (StoreFailure e) {
      Logger.warn("The hours of the sensor of {} are not saved: {}", channel, e.getMessage());
    }
  }

  private void keep() {
    unkept = Duration.ZERO;
    store.keep(channel, life);
  }

  /** A cup was mixed in its room. */
  void cupMixed(Instant time) {
    cup = Optional.of(CupRise.of(time));
  }

  /** Nothing is expected of the cup any more. */
  void noCup() {
    cup = Optional.empty();
  }

  /** Whether a prediction is wanted now, for the cup: once a minute. */
  boolean predictionDue(Instant now) {
    return cup.isPresent() && predicted.filter(at -> now.isBefore(at.plus(MINUTE))).isEmpty();
  }

  /** The styrene that is predicted for its room now. */
  void predicted(Instant now, double ppm) {
    predicted = Optional.of(now);
    cup = cup.map(one -> one.predicted(ppm));
  }

  /** A clean-air reading was taken. */
  void cleanAir(Optional<CleanAirReading> before, CleanAirReading taken) {
    boolean moved =
        before
            .filter(one -> Math.abs(one.ticks() - taken.ticks()) >= CleanAirReading.DRIFT_TICKS)
            .isPresent();
    if (moved) {
      proof(life.proof().cleanAirMoved(taken.taken()));
    }
  }

  /**
   * Begins a bump test; one under way begins anew.
   *
   * @throws IllegalArgumentException where a rise could not be seen now
   */
  void begin(VaporWatch watch, String id, String who) {
    BumpTest.refused(watch)
        .ifPresent(
            why -> {
              throw new IllegalArgumentException(why);
            });
    double before = watch.lastMinute().orElseThrow().value();
    run = Optional.of(BumpRun.begun(watch, before, id, who));
  }

  private void through(BumpRun done, BumpResult result) {
    run = Optional.empty();
    BumpResult dated = result.at(clock.wall(result.time()));
    SensorLife.Tester by = done.tester();
    store.tested(channel, by, dated);
    life = life.with(by);
    proof(life.proof().tested(dated));
  }

  /** How far the bump test is; empty when none is under way. */
  Optional<BumpRun.State> state(Instant now) {
    return run.map(one -> one.state(now, clock));
  }

  /** The id of the bump test under way. */
  Optional<String> running() {
    return run.map(one -> one.tester().test());
  }

  /** Somebody says whether lamp, buzzer and fan came on; empty when there was no test. */
  Optional<SensorLife> alarmSeen(boolean seen, String saidAs, String who) {
    if (life.tester().isEmpty()) {
      return Optional.empty();
    }
    SensorLife.Tester said = life.tester().get().saying(seen);
    store.alarmSeen(channel, said, saidAs, who, clock.wall());
    life = life.with(said);
    keep();
    return Optional.of(life);
  }
}
