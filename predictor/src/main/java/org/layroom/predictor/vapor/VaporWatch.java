package org.layroom.predictor.vapor;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.predictor.exposure.AirAverage;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.EightHourDose;

/**
 * The warning machine: one pure step from state and event to state, for the device's own lamps and
 * for the dashboard alike. Thresholds are in {@link ChipThresholds} and {@link PpmThresholds}; here
 * is for how long they must hold: up after a minute (at once on the minute's own mean), down after
 * ten minutes below four fifths, leave until somebody has acknowledged it (see {@link
 * WarningState}). Unknown is laid over what was known and never turns into ok without data.
 * Immutable. Cost of a step: proportional to the readings of the last quarter of an hour.
 */
public final class VaporWatch {
  private final WatchSettings settings;
  private final Instant now;
  private final SensorFeed feed;
  private final EightHourDose shift;
  private final Optional<WatchedJob> job;
  private final HoldTimers holds;
  private final WarningState standing;

  private VaporWatch(
      WatchSettings settings,
      Instant now,
      SensorFeed feed,
      EightHourDose shift,
      Optional<WatchedJob> job,
      HoldTimers holds,
      WarningState standing) {
    this.settings = settings;
    this.now = now;
    this.feed = feed;
    this.shift = shift;
    this.job = job;
    this.holds = holds;
    this.standing = standing;
  }

  /** A watch that knows nothing yet: the air is unknown. */
  public static VaporWatch started(WatchSettings settings, Instant now) {
    VaporWatch fresh =
        new VaporWatch(
            settings,
            now,
            SensorFeed.none(),
            EightHourDose.none(),
            Optional.empty(),
            HoldTimers.NONE,
            WarningState.NOTHING);
    return fresh.settled(now, false);
  }

  /**
   * This watch's averages with what another of the same sensor remembers: after a restart a warning
   * stands on, with who has seen it, and is not raised anew.
   */
  public VaporWatch remembering(WatchMemory memory) {
    return new VaporWatch(
            settings,
            now,
            feed,
            shift,
            memory.job(),
            HoldTimers.NONE,
            WarningState.remembered(memory))
        .settled(now, false);
  }

  /** What is to be kept over a restart beside {@link #settings()}. */
  public WatchMemory memory() {
    return new WatchMemory(
        standing.base(), standing.warning(), standing.lastId(), standing.seenAt(), job);
  }

  /** The state after one more event. */
  public static VaporWatch step(VaporWatch state, AirEvent event) {
    Instant time = event.time().isBefore(state.now) ? state.now : event.time();
    VaporWatch next = state.taken(event, time);
    boolean fresh =
        next.feed.newest().isPresent()
            && !next.feed
                .newest()
                .map(SensorFeed.Newest::time)
                .equals(state.feed.newest().map(SensorFeed.Newest::time));
    return next.settled(time, fresh);
  }

  /** As {@link #step}. */
  public VaporWatch plus(AirEvent event) {
    return step(this, event);
  }

  private VaporWatch taken(AirEvent event, Instant time) {
    if (event instanceof AirEvent.Ticks ticks) {
      return told(SensorEvents.of(settings.sensor(), ticks));
    } else if (event instanceof AirEvent.Level level) {
      return told(SensorEvents.of(settings.sensor(), level));
    } else if (event instanceof AirEvent.Ppm ppm) {
      return told(SensorEvents.of(settings.sensor(), ppm));
    } else if (event instanceof AirEvent.Failed failed) {
      return with(feed.failed(time, failed.reason(), settings.longestSilence()), shift);
    } else if (event instanceof AirEvent.PoweredOn) {
      return with(feed.poweredOn(time), shift);
    } else if (event instanceof AirEvent.JobStarted started) {
      return with(Optional.of(job(started, time)));
    } else if (event instanceof AirEvent.JobEnded) {
      return jobEnded();
    } else if (event instanceof AirEvent.CleanAirTaken taken) {
      return cleanAir(taken.reading());
    } else if (event instanceof AirEvent.MovedToHouseSide) {
      return with(settings.onHouseSide());
    } else if (event instanceof AirEvent.Acknowledged seen) {
      return acknowledged(seen, time);
    }
    return this;
  }

  private VaporWatch told(Optional<SensorFeed.Told> told) {
    if (told.isEmpty()) {
      return this;
    }
    SensorFeed next = feed.plus(told.get());
    boolean counts =
        !told.get().chip()
            && next.newest().filter(one -> one.time().equals(told.get().time())).isPresent();
    EightHourDose longer =
        counts ? shift.plus(new AirSample(told.get().time(), told.get().level())) : shift;
    return with(next, longer);
  }

  private WatchedJob job(AirEvent.JobStarted started, Instant time) {
    boolean quiet = started.fanOn() && started.respiratorOn();
    Optional<WatchedJob> going = job.filter(one -> one.quiet() == quiet);
    return new WatchedJob(
        going.map(WatchedJob::start).orElse(time),
        started.until(),
        started.who(),
        quiet,
        going.map(WatchedJob::worstMinute).orElse(0.0));
  }

  /** A job with the fan on teaches what this room's worst is; nothing is unlearned. */
  private VaporWatch jobEnded() {
    if (job.isEmpty() || !job.get().quiet() || job.get().worstMinute() == 0) {
      return with(Optional.empty());
    }
    if (!(settings.sensor() instanceof VaporSensor.Chip chip)) {
      return with(Optional.empty());
    }
    double worst = Math.max(chip.worstAiredJob().orElse(0), job.get().worstMinute());
    VaporSensor.Chip learned = chip.with(chip.cleanAir(), OptionalDouble.of(worst));
    return new VaporWatch(
        settings.with(learned), now, feed, shift, Optional.empty(), holds, standing);
  }

  /** Levels against another clean air are not averaged with the new ones. */
  private VaporWatch cleanAir(CleanAirReading reading) {
    if (!(settings.sensor() instanceof VaporSensor.Chip chip)) {
      return this;
    }
    VaporSensor.Chip next = chip.with(Optional.of(reading), chip.worstAiredJob());
    return new VaporWatch(
        settings.with(next),
        now,
        feed.failing("a clean-air reading was just taken"),
        shift,
        job,
        holds,
        standing);
  }

  private VaporWatch acknowledged(AirEvent.Acknowledged seen, Instant time) {
    Optional<AirWarning> warning =
        standing
            .warning()
            .filter(one -> one.id() == seen.warningId() && one.acknowledged().isEmpty());
    if (warning.isEmpty()) {
      return this;
    }
    AirWarning marked = WatchWords.seen(warning.get(), new AirWarning.Seen(seen.who(), time));
    double level = feed.minute().at(time).map(AirAverage::value).orElse(0.0);
    return new VaporWatch(settings, now, feed, shift, job, holds, standing.seen(marked, level));
  }

  private VaporWatch with(SensorFeed nextFeed, EightHourDose nextShift) {
    return new VaporWatch(settings, now, nextFeed, nextShift, job, holds, standing);
  }

  private VaporWatch with(WatchSettings nextSettings) {
    return new VaporWatch(nextSettings, now, feed, shift, job, holds, standing);
  }

  private VaporWatch with(Optional<WatchedJob> nextJob) {
    return new VaporWatch(settings, now, feed, shift, nextJob, holds, standing);
  }

  /** What the averages of this moment mean, and for how long they have. */
  private VaporWatch settled(Instant time, boolean fresh) {
    if (job.filter(one -> !time.isBefore(one.until())).isPresent()) {
      return jobEnded().settled(time, fresh);
    }
    CallReasons evidence = evidence(time);
    List<String> doubts = SensorDoubts.of(feed, settings, job, time);
    boolean believed = doubts.isEmpty();
    HoldTimers next = holds.at(time, evidence, believed);
    AirCall base =
        next.base(standing.base(), fresh, standing.leaveSeen(), believed, evidence, time);
    Optional<WatchedJob> seen = job.map(one -> one.seen(evidence.minuteLevel()));
    WarningState.Found found =
        new WarningState.Found(base, evidence, doubts, settings.sensor(), job.isPresent(), quiet());
    return new VaporWatch(settings, time, feed, shift, seen, next, standing.after(found, time));
  }

  private CallReasons evidence(Instant time) {
    if (settings.sensor() instanceof VaporSensor.Chip chip) {
      return new ChipThresholds(feed, chip, job.filter(one -> quiet()), time).evidence();
    }
    VaporSensor.Pid pid = (VaporSensor.Pid) settings.sensor();
    return new PpmThresholds(feed, pid.limit(), shift, job.map(WatchedJob::until), time).evidence();
  }

  private boolean quiet() {
    return settings.sensor() instanceof VaporSensor.Chip
        && settings.place() == WatchSettings.Place.WORK_ROOM
        && job.filter(WatchedJob::quiet).isPresent();
  }

  /** What the air calls for now. */
  public AirCall call() {
    return standing.warning().map(AirWarning::call).orElse(AirCall.OK);
  }

  /** The standing warning; empty when the air is ok. */
  public Optional<AirWarning> warning() {
    return standing.warning();
  }

  /** The warning that the last step raised, so that it is told once. */
  public Optional<AirWarning> raised() {
    return standing.raised();
  }

  /** What is watched, with what has been learned: to be kept over a restart. */
  public WatchSettings settings() {
    return settings;
  }

  /** The time of the last step. */
  public Instant now() {
    return now;
  }

  /** Whether a job is under way. */
  public boolean inJob() {
    return job.isPresent();
  }

  /** The averages in words that this sensor is entitled to. */
  public List<String> words() {
    return standing.warning().map(AirWarning::why).orElse(evidence(now).now());
  }

  /** The mean of the last 15 min, times clean air or ppm by the sensor; empty when not covered. */
  public Optional<AirAverage> quarterHour() {
    return feed.quarter().at(now);
  }

  /** The eight-hour average so far; only an instrument that tells ppm has one. */
  public Optional<AirAverage> eightHours() {
    return settings.sensor() instanceof VaporSensor.Pid ? shift.average(now) : Optional.empty();
  }

  /** Whether a clean-air reading is asked for, and why; empty when not, and for a detector. */
  public Optional<String> cleanAirAsked() {
    return settings.sensor() instanceof VaporSensor.Chip chip
            && job.isEmpty()
            && !chip.keptByDevice()
        ? CleanAirProcedure.asked(chip.cleanAir(), quarterHour(), now)
        : Optional.empty();
  }

  /** Whether the sensor is at its end toward vapor, so that the air may be worse than it says. */
  public boolean saturated() {
    return feed.pinnedSince().isPresent();
  }
}
