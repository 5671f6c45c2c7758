package org.layroom.dashboard.warning;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.decision.DeviceDecisions;
import org.layroom.dashboard.store.StoreEntry;
import org.layroom.device.pace.WatchClock;
import org.layroom.device.telemetry.AirEvents;
import org.layroom.device.telemetry.AlarmState;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.DeviceSettings.Mode;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.ChipAnswer;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.LeaveLevels;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchMemory;
import org.layroom.predictor.vapor.WatchSettings;

/** One device's watch, and what it says itself of its air. Not for several threads. */
final class DeviceWatch {
  /** What a step did to the warnings, and whether the device is to be told of its chip. */
  record Change(
      Optional<AirWarning> raised, Optional<AirWarning> ended, boolean toKeep, boolean learned) {}

  private final Channel channel;
  private final WatchStore store;
  private final List<AirEvent.Ticks> ticks = new ArrayList<>();
  private VaporWatch watch;
  private Optional<CleanAirReading> cleanAir;
  private Optional<AlarmState> alarm = Optional.empty();
  private final JobMinutes jobMinutes = new JobMinutes();
  private ExposureLimit limit;
  private Optional<String> doubt = Optional.empty();
  private boolean sendsLevels;
  private boolean refillDue;

  /**
   * A watch as it was before the last stop, its averages filled from what is stored.
   *
   * @param heardTo up to when stored readings are looked at, on the watches' time
   * @param now since when its air is unknown where none is stored, on the watches' time
   */
  DeviceWatch(Channel channel, WatchStore store, WatchRules rules, Instant heardTo, Instant now) {
    this.channel = channel;
    this.store = store;
    sendsLevels = rules.sendsLevels();
    limit = rules.settings().limit();
    cleanAir = store.cleanAir(channel);
    watch = filled(rules, heardTo, now);
    Optional<WatchMemory> memory = store.memory(channel);
    if (memory.isPresent()) {
      watch = watch.remembering(memory.get());
    }
  }

  Channel channel() {
    return channel;
  }

  VaporWatch watch() {
    return watch;
  }

  Optional<CleanAirReading> cleanAir() {
    return cleanAir;
  }

  Optional<AlarmState> alarm() {
    return alarm;
  }

  void alarm(AlarmState said) {
    alarm = Optional.of(said);
  }

  /** Whether nothing quiets its warnings. */
  boolean full() {
    return watch.settings().place() == WatchSettings.Place.HOUSE_SIDE;
  }

  /** Names a warning of this watch among those of its room. */
  String id(AirWarning warning) {
    return channel.device() + "-" + warning.id();
  }

  /** A warning of this watch as it is shown. */
  OpenWarning open(AirWarning warning, WatchClock clock) {
    return new OpenWarning(
        id(warning),
        channel.device(),
        OpenWarning.Source.DASHBOARD,
        full(),
        warning.call(),
        clock.wall(warning.since()),
        warning.why(),
        warning.whatToDo(),
        warning.endsWhen(),
        warning
            .acknowledged()
            .map(seen -> new AirWarning.Seen(seen.who(), clock.wall(seen.when()))));
  }

  /** The device as its decisions are made for it. */
  DeviceDecisions.Device device() {
    return new DeviceDecisions.Device(channel, full(), cleanAir, leave(), alarm, doubt);
  }

  /** What was learned of a chip; empty for one that was not seen in a job, and for a detector. */
  private Optional<LeaveLevels> leave() {
    return watch.settings().sensor() instanceof VaporSensor.Chip chip
        ? Optional.of(chip.leave()).filter(levels -> !levels.equals(LeaveLevels.FIRST))
        : Optional.empty();
  }

  /** The raw signals of the last minutes, for the clean-air procedure. */
  List<AirEvent.Ticks> ticks() {
    return List.copyOf(ticks);
  }

  private VaporWatch filled(WatchRules rules, Instant heardTo, Instant now) {
    VaporSensor sensor = sensor(rules);
    Duration back =
        sensor instanceof VaporSensor.Pid ? WatchStore.LONG_BACK : WatchStore.SHORT_BACK;
    List<AirEvent> past = new ArrayList<>();
    store.replay(channel, sensor, heardTo.minus(back), heardTo, past::add);
    if (past.isEmpty()) {
      return VaporWatch.started(watchSettings(rules, sensor), now);
    }
    VaporWatch state = VaporWatch.started(watchSettings(rules, sensor), past.get(0).time());
    for (AirEvent event : past) {
      state = state.plus(event);
    }
    return state.plus(new AirEvent.TimePassed(heardTo));
  }

  private VaporSensor sensor(WatchRules rules) {
    if (rules.settings().mode() == Mode.PID) {
      return new VaporSensor.Pid(rules.settings().limit(), rules.settings().styreneFactor());
    }
    boolean elsewhere = cleanAir.isEmpty() && sendsLevels;
    return new VaporSensor.Chip(
        cleanAir, LeaveLevels.learned(store.answers(channel), rules.settings().limit()), elsewhere);
  }

  private WatchSettings watchSettings(WatchRules rules, VaporSensor sensor) {
    return new WatchSettings(
        sensor,
        rules.full() ? WatchSettings.Place.HOUSE_SIDE : WatchSettings.Place.WORK_ROOM,
        rules.longestSilence(),
        doubt);
  }

  /** A live sample. The first level of a device that keeps its own clean air begins anew. */
  Change take(StoreEntry.Sample sample, WatchRules rules, Instant time) {
    boolean levels =
        sample.readings().stream().anyMatch(one -> one.name().equals(Series.VOC_LEVEL));
    Change anew = new Change(Optional.empty(), Optional.empty(), false, false);
    if (levels && !sendsLevels) {
      sendsLevels = true;
      anew = changed(rules, time);
    }
    remember(sample, time);
    Optional<AirEvent> event = AirEvents.of(watch.settings().sensor(), time, sample.readings());
    return event.isPresent() ? plus(event.get()) : anew;
  }

  private void remember(StoreEntry.Sample sample, Instant time) {
    AirEvents.ticks(time, sample.readings()).ifPresent(ticks::add);
    Instant oldest = time.minus(WatchStore.SHORT_BACK);
    ticks.removeIf(one -> one.time().isBefore(oldest));
  }

  /**
   * The styrene that is predicted for this room now, in a job with fan and respirator: beside what
   * the chip shows it teaches how strongly it answers.
   */
  void predicted(double ppm) {
    if (predictionDue()) {
      level().ifPresent(level -> jobMinutes.plus(watch.now(), new ChipAnswer.Minute(level, ppm)));
    }
  }

  /** Whether a prediction is wanted now: once a minute in such a job. */
  boolean predictionDue() {
    return watch.quietJob() && jobMinutes.due(watch.now());
  }

  private Optional<Double> level() {
    return watch.believed() ? watch.lastMinute().map(AirAverage::value) : Optional.empty();
  }

  /** A job is over: what it teaches of the chip holds once the vapor has fallen. */
  private boolean learned() {
    if (watch.inJob() || !jobMinutes.any()) {
      return false;
    }
    if (jobMinutes.due(watch.now())) {
      level().ifPresent(level -> jobMinutes.follow(watch.now(), level));
    }
    Optional<ChipAnswer> answer = jobMinutes.taught();
    jobMinutes.forgetIfTooLate(watch.now());
    if (answer.isEmpty() || !(watch.settings().sensor() instanceof VaporSensor.Chip)) {
      return false;
    }
    store.keep(channel, answer.get());
    watch =
        watch.plus(
            new AirEvent.LevelsLearned(
                watch.now(), LeaveLevels.learned(store.answers(channel), limit)));
    return true;
  }

  /** A late reading of the last minutes came in: the averages are worked out anew. */
  void refillDue() {
    refillDue = true;
  }

  /** Nothing but time has passed. */
  Change tick(WatchRules rules, Instant now) {
    if (refillDue) {
      refillDue = false;
      return changed(rules, now);
    }
    return plus(new AirEvent.TimePassed(now));
  }

  /** The same watch under other settings or with late readings; warnings stand on. */
  Change changed(WatchRules rules, Instant now) {
    VaporWatch before = watch;
    Instant time = now.isBefore(watch.now()) ? watch.now() : now;
    limit = rules.settings().limit();
    watch = filled(rules, time, time).remembering(before.memory());
    return change(before);
  }

  /** A bump test or a missed rise gives reason to doubt the sensor; empty for none any more. */
  Change doubted(Optional<String> reason) {
    doubt = reason;
    return plus(new AirEvent.Doubted(watch.now(), reason));
  }

  /** A bump test begins: nothing is learned of its vapor. */
  void forgetJob() {
    jobMinutes.forget();
  }

  /** A clean-air reading was taken on purpose. */
  Change cleanAir(CleanAirReading reading, WatchRules rules, Instant now) {
    cleanAir = Optional.of(reading);
    return changed(rules, now);
  }

  /** Another sensor was fitted: nothing that was learned of the one before holds. */
  Change fitted(WatchRules rules, Instant now) {
    store.forgetChip(channel);
    cleanAir = Optional.empty();
    ticks.clear();
    jobMinutes.forget();
    return changed(rules, now);
  }

  Change plus(AirEvent event) {
    VaporWatch before = watch;
    watch = watch.plus(event);
    return change(before);
  }

  private Change change(VaporWatch before) {
    if (!before.inJob() && watch.inJob()) {
      jobMinutes.forget();
    }
    boolean learned = learned();
    Optional<AirWarning> was = before.warning();
    Optional<AirWarning> is = watch.warning();
    boolean another = !was.map(AirWarning::id).equals(is.map(AirWarning::id));
    boolean kept =
        another
            || !was.flatMap(AirWarning::acknowledged).equals(is.flatMap(AirWarning::acknowledged))
            || before.memory().base() != watch.memory().base()
            || before.inJob() != watch.inJob()
            || !before.memory().wiping().equals(watch.memory().wiping());
    if (kept) {
      store.keep(channel, watch);
    }
    return new Change(
        another ? is : Optional.empty(), another ? was : Optional.empty(), kept, learned);
  }
}
