package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.jspecify.annotations.Nullable;
import org.layroom.dashboard.job.CameOut;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobBook;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.job.Symptom;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.HardeningClock;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.Outcome;
import org.layroom.predictor.hardening.PartAge;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.mix.PartClocks;

/**
 * What became of this shop's parts, as their records tell: a check by hand or with a hardness
 * tester, how it came out of the mold, and what was seen of a part that was too soft. An undone tap
 * leaves no trace. Each is worked out once, from the mold's temperature as it was measured.
 */
final class JobOutcomes {
  /** A hand check and "came out fine" within this are one observation (chosen). */
  private static final Duration JUST_BEFORE = Duration.ofHours(3);

  private final MaterialShelf shelf;
  private final GelTests tests;
  private final MoldTemperature molds;
  private final Map<String, Optional<PartOutcome>> made = new ConcurrentHashMap<>();
  private volatile @Nullable JobBook book;
  private volatile @Nullable List<PartOutcome> kept;

  JobOutcomes(MaterialShelf shelf, GelTests tests, MoldTemperature molds) {
    this.shelf = shelf;
    this.tests = tests;
    this.molds = molds;
  }

  /** Learns from a book from now on. */
  void follow(JobBook followed) {
    book = followed;
    followed.addListener(
        taken -> {
          if (tells(taken.event().event()) || taken.event().event() instanceof JobEvent.Undone) {
            kept = null;
          }
        });
    kept = null;
  }

  /** Whether an event tells what became of a part. */
  static boolean tells(JobEvent event) {
    return event instanceof JobEvent.Checked
        || event instanceof JobEvent.Seen
        || (event instanceof JobEvent.Done done && done.cameOut().isPresent());
  }

  /** All outcomes that stand, of all rooms; the list is made when a part or a can has changed. */
  List<PartOutcome> all() {
    List<PartOutcome> known = kept;
    if (known == null) {
      JobBook followed = book;
      known = followed == null ? List.of() : of(followed);
      kept = known;
    }
    return known;
  }

  private List<PartOutcome> of(JobBook parts) {
    return parts.rooms().entrySet().stream()
        .flatMap(
            room ->
                room.getValue().stream()
                    .flatMap(
                        job ->
                            job.standing().stream()
                                .flatMap(event -> outcome(room.getKey(), job, event).stream())))
        .toList();
  }

  /** Forgets what was worked out, because a gel test or a material has changed. */
  void forget() {
    made.clear();
    kept = null;
  }

  private Optional<PartOutcome> outcome(RoomName room, Job job, StoredJobEvent event) {
    if (!tells(event.event()) || saidAlready(job, event)) {
      return Optional.empty();
    }
    String key = job.id() + "/" + event.id();
    Optional<PartOutcome> outcome = made.get(key);
    if (outcome == null) {
      outcome = worked(room, job, event);
      made.put(key, outcome);
    }
    return outcome;
  }

  /**
   * Whether the same was said before: "soft" seen of a part that came out soft, or "fine" of one
   * that was found hard by hand just before.
   */
  private static boolean saidAlready(Job job, StoredJobEvent event) {
    if (event.event() instanceof JobEvent.Seen seen) {
      return job.standing().stream()
          .anyMatch(
              other ->
                  other.event() instanceof JobEvent.Done done
                      && done.cameOut()
                          .flatMap(CameOut::symptom)
                          .filter(seen.symptom()::equals)
                          .isPresent());
    }
    boolean fine =
        event.event() instanceof JobEvent.Done done
            && done.cameOut().filter(CameOut.FINE::equals).isPresent();
    return fine
        && job.standing().stream()
            .anyMatch(
                other ->
                    other.event() instanceof JobEvent.Checked checked
                        && checked.hard()
                        && Duration.between(other.time(), event.time()).compareTo(JUST_BEFORE)
                            <= 0);
  }

  private Optional<PartOutcome> worked(RoomName room, Job job, StoredJobEvent event) {
    Instant lookedAt =
        event.event() instanceof JobEvent.Seen ? demolded(job).orElse(event.time()) : event.time();
    Optional<StoredJobEvent> mix =
        job.steps().stream()
            .flatMap(step -> step.mixes().stream())
            .filter(each -> each.time().isBefore(lookedAt))
            .reduce((first, second) -> second);
    Optional<Material> can =
        mix.flatMap(each -> shelf.find(StageWindows.cup(each).material()))
            .map(MaterialShelf.Entry::material);
    if (mix.isEmpty() || can.isEmpty()) {
      return Optional.empty();
    }
    JobEvent.Cup cup = StageWindows.cup(mix.get());
    TemperatureOutlook mold =
        molds.since(room, job.molds(), mix.get().time(), cup.moldC(), lookedAt);
    double minutes = (lookedAt.toEpochMilli() - mix.get().time().toEpochMilli()) / 60_000.0;
    try {
      ClockInputs plain =
          ClockInputs.forJob(
              can.get(),
              tests.calibration(can.get()).belief(),
              cup.doseByWeightPct(),
              TemperatureOutlook.constant(cup.resinC()),
              mold);
      ClockInputs inputs = PartClocks.of(plain, can.get(), JobClocks.pass(cup), cup.moldC());
      PartAge age = HardeningClock.age(mold.paths().get(0), minutes);
      return found(event.event(), age)
          .map(outcome -> new PartOutcome(cup.material(), inputs.priorDemold(), outcome));
    } catch (InvalidMaterial | IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  private static Optional<Instant> demolded(Job job) {
    return job.steps().stream()
        .filter(step -> step.planned().kind() == StepKind.DEMOLD)
        .map(Step::done)
        .flatMap(Optional::stream)
        .findFirst();
  }

  private static Optional<Outcome> found(JobEvent event, PartAge age) {
    if (event instanceof JobEvent.Checked checked) {
      if (!checked.hardness().isEmpty()) {
        double mean =
            checked.hardness().stream().mapToDouble(Double::doubleValue).average().orElseThrow();
        return Optional.of(Outcome.barcol(mean, age));
      }
      Outcome.Kind kind = checked.hard() ? Outcome.Kind.HARD : Outcome.Kind.SOFT;
      return Optional.of(Outcome.of(kind, age));
    }
    if (event instanceof JobEvent.Seen seen) {
      return kind(seen.symptom()).map(kind -> Outcome.of(kind, age));
    }
    if (event instanceof JobEvent.Done done && done.cameOut().isPresent()) {
      CameOut how = done.cameOut().get();
      return how.symptom()
          .map(JobOutcomes::kind)
          .orElse(Optional.of(Outcome.Kind.FINE))
          .map(kind -> Outcome.of(kind, age));
    }
    return Optional.empty();
  }

  private static Optional<Outcome.Kind> kind(Symptom symptom) {
    return switch (symptom) {
      case SOFT -> Optional.of(Outcome.Kind.CAME_OUT_SOFT);
      case STUCK -> Optional.of(Outcome.Kind.STUCK);
      case WARPED -> Optional.of(Outcome.Kind.WARPED);
      case TACKY, WRINKLED, CRACKED, PINHOLES -> Optional.empty();
    };
  }
}
