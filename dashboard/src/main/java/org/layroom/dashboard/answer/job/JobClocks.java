package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.cure.Band;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.CureClocks;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.StageTime;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.heat.MoldKind;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.mix.PartClocks;
import org.layroom.predictor.mix.Pass;
import org.tinylog.Logger;

/** The clocks of the cups of a job. Each is worked out anew at most once a minute. */
final class JobClocks {
  private static final Duration KEPT = Duration.ofSeconds(60);
  private static final int MOST_KEPT = 500;

  /**
   * One cup's clock.
   *
   * @param mixed when it was mixed
   * @param stages from mixing on
   * @param inputs what it ran on
   */
  record Clock(Instant mixed, List<StageTime> stages, ClockInputs inputs) {
    Optional<StageTime> stage(Stage wanted) {
      return stages.stream().filter(stage -> stage.stage() == wanted).findFirst();
    }

    /** A stage's edges as times; an edge that is out of sight is empty. */
    Optional<Times> times(Stage wanted) {
      return stage(wanted).map(stage -> Times.of(mixed, stage.fromMinutes()));
    }
  }

  /** Earliest, likely and latest as times; empty where it is not within sight. */
  record Times(Optional<Instant> earliest, Optional<Instant> likely, Optional<Instant> latest) {
    static Times of(Instant from, Band minutes) {
      return new Times(at(from, minutes.p10()), at(from, minutes.p50()), at(from, minutes.p90()));
    }

    private static Optional<Instant> at(Instant from, double minutes) {
      return Double.isFinite(minutes)
          ? Optional.of(from.plusMillis(Math.round(minutes * 60_000)))
          : Optional.empty();
    }

    boolean opened(Instant now) {
      return likely.filter(time -> !now.isBefore(time)).isPresent();
    }
  }

  private record Made(Instant at, Optional<Clock> clock) {}

  private final MaterialShelf shelf;
  private final GelTests tests;
  private final MoldTemperature molds;
  private final Supplier<List<PartOutcome>> outcomes;
  private final Map<String, Made> made = new ConcurrentHashMap<>();

  /**
   * Clocks of cups.
   *
   * @param outcomes what became of earlier parts
   */
  JobClocks(
      MaterialShelf shelf,
      GelTests tests,
      MoldTemperature molds,
      Supplier<List<PartOutcome>> outcomes) {
    this.outcomes = outcomes;
    this.shelf = shelf;
    this.tests = tests;
    this.molds = molds;
  }

  /** The clock of a cup; empty when its material is not on the shelf any more. */
  Optional<Clock> of(RoomName room, Job job, StoredJobEvent mix, Instant now) {
    Made kept = made.get(mix.id());
    if (kept != null && !now.isBefore(kept.at()) && now.isBefore(kept.at().plus(KEPT))) {
      return kept.clock();
    }
    Optional<Clock> clock =
        mix.event() instanceof JobEvent.Mixed mixed
            ? fresh(room, job.molds(), mixed.cup(), mix.time(), now)
            : Optional.empty();
    if (made.size() > MOST_KEPT) {
      made.clear();
    }
    made.put(mix.id(), new Made(now, clock));
    return clock;
  }

  /** Forgets what was worked out, because a gel test, an outcome or a material has changed. */
  void forget() {
    made.clear();
  }

  /** The clock of a cup as it looks at a time. */
  Optional<Clock> fresh(
      RoomName room, List<String> names, JobEvent.Cup cup, Instant mixed, Instant now) {
    Optional<Material> material = shelf.find(cup.material()).map(MaterialShelf.Entry::material);
    if (material.isEmpty()) {
      return Optional.empty();
    }
    try {
      Calibration can = tests.calibration(material.get());
      ClockInputs plain =
          ClockInputs.forJob(
              material.get(),
              can.belief(),
              cup.doseByWeightPct(),
              TemperatureOutlook.constant(cup.resinC()),
              molds.since(room, names, mixed, cup.moldC(), now),
              material.get().hardening().taughtBy(outcomes.get(), cup.material()));
      ClockInputs inputs = PartClocks.of(plain, material.get(), pass(cup), cup.moldC());
      return Optional.of(new Clock(mixed, CureClocks.stages(inputs), inputs));
    } catch (InvalidMaterial e) {
      Logger.error("No times for {}: {}", cup.material(), e.getMessage());
      return Optional.empty();
    }
  }

  /** How a cup is laid, as far as it was said. */
  static Pass pass(JobEvent.Cup cup) {
    return Pass.thick(cup.thicknessMm(), cup.moldKind().flatMap(MoldKind::of).orElse(MoldKind.GRP));
  }

  /** The newest cup of a step with its clock. */
  Optional<Clock> newest(RoomName room, Job job, Step step, Instant now) {
    return step.mixes().stream()
        .max(Comparator.comparing(StoredJobEvent::time))
        .flatMap(mix -> of(room, job, mix, now));
  }
}
