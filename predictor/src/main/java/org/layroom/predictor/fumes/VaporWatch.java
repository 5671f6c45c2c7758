package org.layroom.predictor.fumes;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The warning machine: one pure step from state and event to state, for the device's own lamps and
 * for the dashboard alike. Thresholds are in {@link ChipTable} and {@link PpmTable}; here is for
 * how long they must hold: up after a minute (at once on the minute's own mean), down after ten
 * minutes below four fifths, leave until somebody has acknowledged it. Unknown is laid over what
 * was known and never turns into ok without data. Immutable. Cost of a step: proportional to the
 * readings of the last quarter of an hour.
 */
public final class VaporWatch {
  /** An acknowledged leave is raised anew when the air gets worse by this factor. */
  private static final double WORSE = 1.5;

  private final WatchSettings settings;
  private final Instant now;
  private final Feed feed;
  private final Shift shift;
  private final Optional<Job> job;
  private final Holds holds;
  private final Standing standing;

  /**
   * What stands.
   *
   * @param base what was last known, under any unknown; unknown before anything was
   */
  private record Standing(
      AirCall base,
      Optional<AirWarning> warning,
      Optional<AirWarning> raised,
      long lastId,
      double seenAt) {}

  private VaporWatch(
      WatchSettings settings,
      Instant now,
      Feed feed,
      Shift shift,
      Optional<Job> job,
      Holds holds,
      Standing standing) {
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
            Feed.none(),
            Shift.none(),
            Optional.empty(),
            Holds.NONE,
            new Standing(AirCall.UNKNOWN, Optional.empty(), Optional.empty(), 0, 0));
    return fresh.settled(now, false);
  }

  /**
   * This watch's averages with what another of the same sensor remembers: after a restart a warning
   * stands on, with who has seen it, and is not raised anew.
   */
  public VaporWatch remembering(WatchMemory memory) {
    Standing before =
        new Standing(
            memory.base(), memory.warning(), Optional.empty(), memory.lastId(), memory.seenAt());
    return new VaporWatch(settings, now, feed, shift, memory.job(), Holds.NONE, before)
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
                .map(Feed.Newest::time)
                .equals(state.feed.newest().map(Feed.Newest::time));
    return next.settled(time, fresh);
  }

  /** As {@link #step}. */
  public VaporWatch plus(AirEvent event) {
    return step(this, event);
  }

  private VaporWatch taken(AirEvent event, Instant time) {
    if (event instanceof AirEvent.Ticks ticks) {
      return told(ofChip(ticks));
    } else if (event instanceof AirEvent.Level level) {
      return told(ofDevice(level));
    } else if (event instanceof AirEvent.Ppm ppm) {
      return told(ofPid(ppm));
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

  private VaporWatch told(Optional<Feed.Told> told) {
    if (told.isEmpty()) {
      return this;
    }
    Feed next = feed.plus(told.get());
    boolean counts =
        !told.get().chip()
            && next.newest().filter(one -> one.time().equals(told.get().time())).isPresent();
    Shift longer =
        counts ? shift.plus(new AirSample(told.get().time(), told.get().level())) : shift;
    return with(next, longer);
  }

  /** A chip without clean air has no level: nothing is counted, but its end is still an end. */
  private Optional<Feed.Told> ofChip(AirEvent.Ticks reading) {
    if (!(settings.sensor() instanceof VaporSensor.Chip chip)) {
      return Optional.empty();
    }
    double level =
        chip.cleanAir()
            .map(clean -> VocLevel.timesCleanAir(clean.ticks(), reading.ticks()))
            .orElse(0.0);
    return Optional.of(
        new Feed.Told(
            reading.time(),
            reading.ticks(),
            level,
            true,
            reading.ticks() <= chip.vaporEndTicks(),
            false,
            doubt(reading)));
  }

  private static Optional<String> doubt(AirEvent.Ticks reading) {
    return reading
        .doubt()
        .map(words -> "The reading is doubtful: " + words + ".")
        .or(() -> WatchWords.doubt(reading.climate()));
  }

  private Optional<Feed.Told> ofPid(AirEvent.Ppm reading) {
    if (!(settings.sensor() instanceof VaporSensor.Pid pid)) {
      return Optional.empty();
    }
    return Optional.of(
        new Feed.Told(
            reading.time(),
            reading.raw(),
            pid.styreneFactor() * reading.isobutylenePpm(),
            false,
            reading.atEnd(),
            false,
            Optional.empty()));
  }

  /** The device has judged the raw signal, so its signs are not looked for again. */
  private Optional<Feed.Told> ofDevice(AirEvent.Level reading) {
    if (!(settings.sensor() instanceof VaporSensor.Chip chip) || !chip.keptByDevice()) {
      return Optional.empty();
    }
    return Optional.of(
        new Feed.Told(
            reading.time(),
            reading.timesCleanAir(),
            reading.timesCleanAir(),
            true,
            reading.pinned(),
            true,
            reading.doubt().map(words -> "The reading is doubtful: " + words + ".")));
  }

  private Job job(AirEvent.JobStarted started, Instant time) {
    boolean quiet = started.fanOn() && started.respiratorOn();
    Optional<Job> going = job.filter(one -> one.quiet() == quiet);
    return new Job(
        going.map(Job::start).orElse(time),
        started.until(),
        started.who(),
        quiet,
        going.map(Job::worstMinute).orElse(0.0));
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
    return new VaporWatch(
        settings,
        now,
        feed,
        shift,
        job,
        holds,
        new Standing(
            standing.base(), Optional.of(marked), Optional.empty(), standing.lastId(), level));
  }

  private VaporWatch with(Feed nextFeed, Shift nextShift) {
    return new VaporWatch(settings, now, nextFeed, nextShift, job, holds, standing);
  }

  private VaporWatch with(WatchSettings nextSettings) {
    return new VaporWatch(nextSettings, now, feed, shift, job, holds, standing);
  }

  private VaporWatch with(Optional<Job> nextJob) {
    return new VaporWatch(settings, now, feed, shift, nextJob, holds, standing);
  }

  /** What the averages of this moment mean, and for how long they have. */
  private VaporWatch settled(Instant time, boolean fresh) {
    if (job.filter(one -> !time.isBefore(one.until())).isPresent()) {
      return jobEnded().settled(time, fresh);
    }
    Evidence evidence = evidence(time);
    List<String> doubts = Doubts.of(feed, settings, job, time);
    boolean believed = doubts.isEmpty();
    Holds next = holds.at(time, evidence, believed);
    AirCall base = next.base(standing.base(), fresh, leaveSeen(), believed, evidence, time);
    Optional<Job> seen = job.map(one -> one.seen(evidence.minuteLevel()));
    return new VaporWatch(
        settings, time, feed, shift, seen, next, standing(base, evidence, doubts, time));
  }

  private Evidence evidence(Instant time) {
    if (settings.sensor() instanceof VaporSensor.Chip chip) {
      return new ChipTable(feed, chip, job.filter(one -> quiet()), time).evidence();
    }
    VaporSensor.Pid pid = (VaporSensor.Pid) settings.sensor();
    return new PpmTable(feed, pid.limit(), shift, job.map(Job::until), time).evidence();
  }

  private boolean leaveSeen() {
    return standing
        .warning()
        .filter(one -> one.call() == AirCall.LEAVE && one.acknowledged().isPresent())
        .isPresent();
  }

  private Standing standing(AirCall base, Evidence evidence, List<String> doubts, Instant time) {
    AirCall call = base == AirCall.LEAVE || doubts.isEmpty() ? base : AirCall.UNKNOWN;
    if (call == AirCall.OK) {
      return new Standing(base, Optional.empty(), Optional.empty(), standing.lastId(), 0);
    }
    Optional<AirWarning> before = standing.warning().filter(one -> one.call() == call);
    boolean worse =
        call == AirCall.LEAVE
            && leaveSeen()
            && !evidence.leaveNow().isEmpty()
            && evidence.minuteLevel() >= WORSE * standing.seenAt()
            && standing.seenAt() > 0;
    boolean raise = before.isEmpty() || worse;
    long id = raise ? standing.lastId() + 1 : standing.lastId();
    Optional<AirWarning.Seen> seen =
        raise ? Optional.empty() : before.flatMap(AirWarning::acknowledged);
    AirWarning warning =
        new AirWarning(
            id,
            call,
            raise ? time : before.map(AirWarning::since).orElse(time),
            why(call, evidence, doubts),
            WatchWords.whatToDo(call),
            WatchWords.endsWhen(call, settings.sensor(), quiet()),
            seen,
            sound(call, base, seen.isPresent()));
    return new Standing(
        base,
        Optional.of(warning),
        raise ? Optional.of(warning) : Optional.empty(),
        id,
        raise ? 0 : standing.seenAt());
  }

  private List<String> why(AirCall call, Evidence evidence, List<String> doubts) {
    List<String> why = new ArrayList<>();
    if (call == AirCall.LEAVE) {
      why.addAll(evidence.leaveNow());
      why.addAll(evidence.leave());
    } else if (call == AirCall.VENTILATE) {
      why.addAll(evidence.ventilateNow());
      why.addAll(evidence.ventilate());
    }
    if (why.isEmpty() && doubts.isEmpty()) {
      why.addAll(evidence.now());
      if (!evidence.covered()) {
        why.add("Fewer than 12 of the last 15 min were measured.");
      }
    }
    why.addAll(doubts);
    return why;
  }

  private AirWarning.Sound sound(AirCall call, AirCall base, boolean seen) {
    boolean heard = call != AirCall.UNKNOWN || job.isPresent() || base == AirCall.VENTILATE;
    if (seen || !heard) {
      return AirWarning.Sound.SILENT;
    }
    if (call == AirCall.LEAVE) {
      return AirWarning.Sound.URGENT;
    }
    return quiet() ? AirWarning.Sound.ONCE : AirWarning.Sound.REPEATED;
  }

  private boolean quiet() {
    return settings.sensor() instanceof VaporSensor.Chip
        && settings.place() == WatchSettings.Place.WORK_ROOM
        && job.filter(Job::quiet).isPresent();
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
}
