package org.layroom.predictor.vapor;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
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
  private static final Duration WIPING = Duration.ofMinutes(15);
  private static final Duration WIPING_AGAIN = Duration.ofHours(1);

  private final WatchSettings settings;
  private final Instant now;
  private final SensorFeed feed;
  private final EightHourDose shift;
  private final Optional<WatchedJob> job;
  private final Optional<Instant> wiping;
  private final HoldTimers holds;
  private final WarningState standing;

  private VaporWatch(
      WatchSettings settings,
      Instant now,
      SensorFeed feed,
      EightHourDose shift,
      Optional<WatchedJob> job,
      Optional<Instant> wiping,
      HoldTimers holds,
      WarningState standing) {
    this.settings = settings;
    this.now = now;
    this.feed = feed;
    this.shift = shift;
    this.job = job;
    this.wiping = wiping;
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
            memory.wiping(),
            HoldTimers.NONE,
            WarningState.remembered(memory))
        .settled(now, false);
  }

  /** What is to be kept over a restart beside {@link #settings()}. */
  public WatchMemory memory() {
    return new WatchMemory(
        standing.base(), standing.warning(), standing.lastId(), standing.seenAt(), job, wiping);
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
      return with(Optional.<WatchedJob>empty());
    } else if (event instanceof AirEvent.LevelsLearned learned) {
      return learned(learned.levels());
    } else if (event instanceof AirEvent.Wiping) {
      return wiping(time);
    } else if (event instanceof AirEvent.CleanAirTaken taken) {
      return cleanAir(taken.reading());
    } else if (event instanceof AirEvent.Doubted doubted) {
      return with(settings.doubting(doubted.reason()));
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
        going.map(WatchedJob::start).orElse(time), started.until(), started.who(), quiet);
  }

  private VaporWatch learned(LeaveLevels levels) {
    return settings.sensor() instanceof VaporSensor.Chip chip
        ? with(settings.with(chip.leavingFrom(levels)))
        : this;
  }

  /** Whether somebody may say now that solvent is being wiped; empty when so, else why not. */
  public Optional<String> wipingRefused() {
    if (call() == AirCall.LEAVE || call() == AirCall.UNKNOWN) {
      return Optional.of(
          call() == AirCall.LEAVE
              ? "Leave the room. Nothing is silenced now."
              : "The air is unknown. Nothing is silenced now.");
    }
    boolean lately =
        wiping.filter(at -> Duration.between(at, now).compareTo(WIPING_AGAIN) < 0).isPresent();
    return lately
        ? Optional.of("Only once an hour: air the room until the vapor is low.")
        : Optional.empty();
  }

  /** Until when ventilate makes no sound because solvent is being wiped; empty when it does. */
  public Optional<Instant> wipingUntil() {
    return wiping.map(at -> at.plus(WIPING)).filter(now::isBefore);
  }

  private VaporWatch wiping(Instant time) {
    return wipingRefused().isPresent()
        ? this
        : new VaporWatch(settings, now, feed, shift, job, Optional.of(time), holds, standing);
  }

  /** Levels against another clean air are not averaged with the new ones. */
  private VaporWatch cleanAir(CleanAirReading reading) {
    if (!(settings.sensor() instanceof VaporSensor.Chip chip)) {
      return this;
    }
    return new VaporWatch(
        settings.with(chip.cleanAt(reading)),
        now,
        feed.failing("a clean-air reading was just taken"),
        shift,
        job,
        wiping,
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
    return new VaporWatch(
        settings, now, feed, shift, job, wiping, holds, standing.seen(marked, level));
  }

  private VaporWatch with(SensorFeed nextFeed, EightHourDose nextShift) {
    return new VaporWatch(settings, now, nextFeed, nextShift, job, wiping, holds, standing);
  }

  private VaporWatch with(WatchSettings nextSettings) {
    return new VaporWatch(nextSettings, now, feed, shift, job, wiping, holds, standing);
  }

  private VaporWatch with(Optional<WatchedJob> nextJob) {
    return new VaporWatch(settings, now, feed, shift, nextJob, wiping, holds, standing);
  }

  /** What the averages of this moment mean, and for how long they have. */
  private VaporWatch settled(Instant time, boolean fresh) {
    if (job.filter(one -> !time.isBefore(one.until())).isPresent()) {
      return with(Optional.<WatchedJob>empty()).settled(time, fresh);
    }
    CallReasons evidence = evidence(time);
    List<String> doubts = SensorDoubts.of(feed, settings, job, time);
    boolean believed = doubts.isEmpty();
    HoldTimers next = holds.at(time, evidence, believed);
    AirCall base =
        next.base(standing.base(), fresh, standing.leaveSeen(), believed, evidence, time);
    WarningState.Found found =
        new WarningState.Found(
            base,
            evidence,
            doubts,
            settings.sensor(),
            new WarningState.Circumstances(
                job.isPresent(),
                quiet(),
                wiping.filter(at -> time.isBefore(at.plus(WIPING))).isPresent()));
    return new VaporWatch(
        settings, time, feed, shift, job, wiping, next, standing.after(found, time));
  }

  private CallReasons evidence(Instant time) {
    if (settings.sensor() instanceof VaporSensor.Chip chip) {
      return new ChipThresholds(feed, chip, quiet(), time).evidence();
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

  /** Whether a job with fan and respirator makes warnings quieter here. */
  public boolean quietJob() {
    return quiet();
  }

  /** Whether the sensor is believed now. */
  public boolean believed() {
    return SensorDoubts.of(feed, settings, job, now).isEmpty();
  }

  /** Why the sensor is not believed, but for what a bump test has found or would find. */
  public List<String> doubtsBesideATest() {
    return SensorDoubts.of(feed, settings.doubting(Optional.empty()), job, now);
  }

  /** The newest reading that counted, times clean air or ppm as styrene. */
  public Optional<AirSample> newest() {
    return feed.newest().map(one -> new AirSample(one.time(), one.level()));
  }

  /** Whether a job is under way. */
  public boolean inJob() {
    return job.isPresent();
  }

  /** The averages in words that this sensor is entitled to. */
  public List<String> words() {
    return standing.warning().map(AirWarning::why).orElse(evidence(now).now());
  }

  /** The mean of the last minute, times clean air or ppm by the sensor; empty when not covered. */
  public Optional<AirAverage> lastMinute() {
    return feed.minute().at(now);
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
