package org.layroom.dashboard.replay;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.layroom.dashboard.recording.Recording;
import org.layroom.dashboard.recording.Row;
import org.layroom.dashboard.recording.UnusableRecording;
import org.layroom.predictor.vapor.AirCall;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.AirWarning;
import org.layroom.predictor.vapor.CleanAirReading;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchSettings;

/**
 * Which warnings of the air a recording raises, by the rule that device and dashboard run, with the
 * clean-air reading and the jobs that go with it. An empty cell of the vapor signal is a read that
 * failed, a gap is silence. Nobody acknowledges anything, so a leave stands to the end.
 */
public final class RecordedAir {
  private static final Duration BEAT = Duration.ofSeconds(5);
  private static final Duration LONGEST_SILENCE = Duration.ofMinutes(2);

  /** A gap longer than this has long been unknown: its end is looked at, and not each beat. */
  private static final Duration LOOKED_INTO = Duration.ofHours(1);

  private static final Set<String> NEEDED = Set.of(Recording.VOC_RAW);
  private static final Set<String> BESIDE = Set.of(Recording.TEMPERATURE, Recording.HUMIDITY);

  /** A job with fan and respirator on. */
  public record RecordedJob(Instant from, Instant to) {
    public RecordedJob {
      if (!to.isAfter(from)) {
        throw new IllegalArgumentException("job: the end " + to + " must be after " + from);
      }
    }
  }

  /**
   * A warning as it stood.
   *
   * @param until empty when it stood at the end of the recording
   */
  public record Alarm(
      AirCall call, Instant from, Optional<Instant> until, List<String> why, String whatToDo) {
    public Alarm {
      why = List.copyOf(why);
    }
  }

  private final List<RecordedJob> jobs;
  private final List<Alarm> alarms = new ArrayList<>();
  private final VaporSensor sensor;
  private Optional<VaporWatch> watch = Optional.empty();

  /** As it was raised, with the reasons of then. */
  private Optional<AirWarning> standing = Optional.empty();

  private int nextJob;

  private RecordedAir(Optional<CleanAirReading> cleanAir, List<RecordedJob> jobs) {
    sensor = cleanAir.map(VaporSensor.Chip::with).orElse(VaporSensor.Chip.fresh());
    this.jobs = jobs.stream().sorted(Comparator.comparing(RecordedJob::from)).toList();
  }

  /**
   * The warnings of a recording, in order of time; empty for one without a vapor signal.
   *
   * @param zone of times without an offset
   * @param cleanAir what the chip read in this room's clean air; without it the air is unknown
   */
  public static List<Alarm> of(
      Path file, ZoneId zone, Optional<CleanAirReading> cleanAir, List<RecordedJob> jobs)
      throws UnusableRecording {
    RecordedAir air = new RecordedAir(cleanAir, jobs);
    try (Recording recording = Recording.openWithGaps(file, zone, NEEDED, BESIDE)) {
      recording.forEach(air::row, bad -> {});
    }
    air.end();
    return List.copyOf(air.alarms);
  }

  /** Whether a recording has a vapor signal. */
  public static boolean measured(Path file, ZoneId zone) throws UnusableRecording {
    try (Recording recording =
        Recording.openWithGaps(file, zone, Set.of(), Set.of(Recording.VOC_RAW))) {
      boolean[] any = new boolean[1];
      recording.forEach(row -> any[0] |= row.value(Recording.VOC_RAW).isPresent(), bad -> {});
      return any[0];
    }
  }

  private void row(Row row) {
    if (watch.isEmpty()) {
      watch =
          Optional.of(
              VaporWatch.started(
                  new WatchSettings(sensor, WatchSettings.Place.WORK_ROOM, LONGEST_SILENCE),
                  row.time()));
    }
    passTo(row.time());
    step(event(row));
  }

  private static AirEvent event(Row row) {
    OptionalDouble ticks = row.value(Recording.VOC_RAW);
    if (ticks.isEmpty() || !(ticks.getAsDouble() >= 0 && ticks.getAsDouble() <= 65_535)) {
      return new AirEvent.Failed(row.time(), "no usable value in the recording");
    }
    OptionalDouble temperature = row.value(Recording.TEMPERATURE);
    OptionalDouble humidity = row.value(Recording.HUMIDITY);
    return new AirEvent.Ticks(
        row.time(),
        ticks.getAsDouble(),
        temperature.isPresent() && humidity.isPresent()
            ? Optional.of(new AirEvent.Climate(temperature.getAsDouble(), humidity.getAsDouble()))
            : Optional.empty());
  }

  private void passTo(Instant time) {
    Instant now = watch.orElseThrow().now();
    Instant looked = now.plus(LOOKED_INTO);
    while (now.plus(BEAT).isBefore(time) && now.isBefore(looked)) {
      now = now.plus(BEAT);
      startJobs(now);
      step(new AirEvent.TimePassed(now));
    }
    startJobs(time);
  }

  private void startJobs(Instant now) {
    while (nextJob < jobs.size() && !now.isBefore(jobs.get(nextJob).from())) {
      RecordedJob job = jobs.get(nextJob++);
      if (job.to().isAfter(now)) {
        step(new AirEvent.JobStarted(now, job.to(), "recording", true, true));
      }
    }
  }

  private void step(AirEvent event) {
    VaporWatch next = watch.orElseThrow().plus(event);
    watch = Optional.of(next);
    Optional<AirWarning> now = next.warning();
    if (!now.map(AirWarning::id).equals(standing.map(AirWarning::id))) {
      standing.ifPresent(before -> kept(before, Optional.of(next.now())));
      standing = now;
    }
  }

  private void kept(AirWarning warning, Optional<Instant> until) {
    alarms.add(
        new Alarm(warning.call(), warning.since(), until, warning.why(), warning.whatToDo()));
  }

  private void end() {
    standing.ifPresent(warning -> kept(warning, Optional.empty()));
  }
}
