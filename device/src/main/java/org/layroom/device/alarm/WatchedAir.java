package org.layroom.device.alarm;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import org.layroom.device.pace.Pace;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.sampling.Sample;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchMemory;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * The watch over the air of this device, on a clock that no setting of the wall clock disturbs, and
 * with what a start finds recorded. Not safe for several threads.
 */
final class WatchedAir {
  /** So old a record may be of air that is as bad still (this project's choice). */
  private static final Duration KEPT_AGAIN = Duration.ofMinutes(15);

  private final Pace pace;
  private final AlarmStore store;
  private final WatchClock clock;
  private final WarningNames names;
  private final Recall recall;
  private final Optional<AlarmStore.Recorded> recorded;
  private boolean clockTold;
  private VaporWatch watch;
  private boolean mayExplode;
  private Optional<AlarmMemory> kept = Optional.empty();
  private Duration keptAt = Duration.ZERO;

  WatchedAir(Pace pace, WatchSettings settings, AlarmStore store) {
    this.pace = pace;
    this.store = store;
    clock = new WatchClock(pace);
    clockTold = clock.believed();
    recorded = store.recall().map(this::onThisClock);
    String run = UUID.randomUUID().toString().substring(0, 8);
    VaporWatch fresh = VaporWatch.started(settings, clock.now());
    if (recorded.isEmpty()) {
      names = new WarningNames(run, 0, "");
      recall = Recall.nothing();
      watch = fresh;
    } else {
      AlarmMemory memory = recorded.get().memory();
      Optional<AirWarning> warning = memory.watch().warning();
      names = new WarningNames(run, warning.map(AirWarning::id).orElse(0L), memory.warningId());
      recall = Recall.of(settings, clock.now(), warning, recorded.get().age());
      watch = fresh.remembering(memory.watch());
      mayExplode = memory.mayExplode();
    }
  }

  /** A record told by this start's clock, as long ago as it is. */
  private AlarmStore.Recorded onThisClock(AlarmStore.Recorded told) {
    Instant then = clock.now().minus(told.age().orElse(Duration.ZERO));
    Duration shift = Duration.between(told.at(), then);
    AlarmMemory memory = told.age().isPresent() ? told.memory() : told.memory().withoutWiping();
    return new AlarmStore.Recorded(
        memory.timed(time -> time.plus(shift)), told.at(), told.atBelieved(), told.age());
  }

  /** Whether the fan ran when the program stopped, not too long ago. */
  boolean fanRanOn() {
    return recorded
        .filter(one -> one.age().filter(age -> age.compareTo(Recall.YOUNG) > 0).isEmpty())
        .filter(one -> one.memory().fanOn())
        .isPresent();
  }

  /** The watch's own state. */
  VaporWatch watch() {
    return watch;
  }

  /** The standing warning; empty when the air is ok. */
  Optional<AirWarning> warning() {
    return recall.warning(watch);
  }

  /** How long the standing warning has stood. */
  Duration since(AirWarning warning) {
    Duration since = Duration.between(warning.since(), clock.now());
    return since.isNegative() ? Duration.ZERO : since;
  }

  /** What the fan goes by. */
  AirCall forTheFan() {
    return recall.forTheFan(watch);
  }

  /** Whether the air may be explosive, as far as the sensor has told. */
  boolean mayExplode() {
    return mayExplode || watch.saturated();
  }

  /**
   * Takes a sample: what its readings mean to the watch happens next.
   *
   * @return whether the wall clock is believed since this sample, so that times are told anew
   */
  boolean accept(Sample sampled) {
    AirEvents.mayExplode(sampled.readings()).ifPresent(may -> mayExplode = may);
    boolean news = !clockTold && clock.believed();
    if (news) {
      clockTold = true;
      recorded
          .filter(one -> one.age().isEmpty() && one.atBelieved())
          .ifPresent(one -> recall.aged(Duration.between(one.at(), clock.wall())));
    }
    return news;
  }

  /** What the readings of a sample mean to the watch. */
  AirEvent event(Sample sampled) {
    VaporSensor sensor = watch.settings().sensor();
    Instant time = clock.at(sampled.uptime());
    return AirEvents.of(sensor, time, sampled.readings())
        .orElseGet(
            () ->
                new AirEvent.Failed(
                    time,
                    sensor instanceof VaporSensor.Pid
                        ? "no vapor detector answers"
                        : "no vapor sensor answers"));
  }

  /**
   * One step of the watch.
   *
   * @param event made of the time now
   * @return whether the standing warning is another than before
   */
  boolean step(Function<Instant, AirEvent> event) {
    Optional<String> before = key();
    AirEvent happens = event.apply(clock.now());
    watch = watch.plus(happens);
    recall.plus(happens);
    return !key().equals(before);
  }

  /** Somebody has seen a warning; one that does not stand now is ignored. */
  boolean acknowledged(String id, String who) {
    Optional<String> before = key();
    Optional<Long> number = names.number(id);
    number.ifPresent(one -> recall.seen(one, new AirWarning.Seen(who, clock.now())));
    number.ifPresent(one -> step(at -> new AirEvent.Acknowledged(at, one, who)));
    return !key().equals(before);
  }

  private Optional<String> key() {
    return warning().map(one -> one.call() + " " + one.id() + " " + one.acknowledged().isPresent());
  }

  /**
   * The state as told.
   *
   * @param uses which decisions the device goes by
   */
  AlarmState report(AlarmState.Uses uses) {
    return AlarmReport.of(
        warning(), names, clock.believed() ? Optional.of(clock) : Optional.empty(), uses);
  }

  /**
   * Keeps the state where a restart would go on otherwise and, in bad air, again after a while.
   *
   * @param fanOn whether the air makes the fan run
   */
  void keep(boolean fanOn) {
    WatchMemory known = watch.memory();
    Optional<AirWarning> warning = recall.toKeep(watch);
    AlarmMemory now =
        new AlarmMemory(
            new WatchMemory(
                known.base(), warning, known.lastId(), known.seenAt(), known.job(), known.wiping()),
            warning.map(one -> names.of(one.id())).orElse(""),
            fanOn,
            mayExplode());
    boolean bad = known.base() == AirCall.VENTILATE || known.base() == AirCall.LEAVE;
    boolean due = bad && pace.uptime().minus(keptAt).compareTo(KEPT_AGAIN) >= 0;
    if (due || kept.filter(now::sameAs).isEmpty()) {
      kept = Optional.of(now);
      keptAt = pace.uptime();
      store.keep(now.timed(clock::wall), clock.wall(), clock.believed());
    }
  }
}
