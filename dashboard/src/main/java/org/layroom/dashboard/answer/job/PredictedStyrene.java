package org.layroom.dashboard.answer.job;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.decision.AirSettings;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.emission.AirChanges;
import org.layroom.predictor.emission.CupsInRoom;
import org.layroom.predictor.emission.Layup;
import org.layroom.predictor.emission.VentilatedRoom;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialKind;

/**
 * The styrene that is predicted for a room now, from the cups that were mixed in it: what a chip
 * shows at the same time teaches how strongly it answers.
 */
final class PredictedStyrene {
  /** A cup older than this gives nothing any more. */
  private static final Duration LOOKED_BACK = Duration.ofHours(12);

  private static final Duration LONGEST_GEL = Duration.ofHours(24);

  /** Where a can does not say how much styrene it holds, % (common practice, no source). */
  private static final double USUAL_RESIN_PCT = 42;

  private static final double USUAL_GEL_COAT_PCT = 33;
  private static final double GRAMS = 1000;

  /** What is known of the room's air. */
  record Air(AirSettings settings, Optional<Double> measuredPerHour, double airC) {
    /** Empty where nobody has said how large the room is. */
    Optional<VentilatedRoom> room(boolean fanOn) {
      if (settings.volumeM3().isEmpty()) {
        return Optional.empty();
      }
      double volumeM3 = settings.volumeM3().getAsDouble();
      return Optional.of(
          measuredPerHour
              .map(perHour -> new VentilatedRoom(volumeM3, AirChanges.measured(perHour), 1, airC))
              .orElseGet(() -> assumed(volumeM3, fanOn)));
    }

    private VentilatedRoom assumed(double volumeM3, boolean fanOn) {
      AirChanges changes = fanOn ? AirChanges.Guess.FAN : AirChanges.Guess.SHUT;
      return new VentilatedRoom(volumeM3, changes, VentilatedRoom.USUAL_MIXING, airC);
    }
  }

  private final JobClocks clocks;
  private final MaterialShelf shelf;

  PredictedStyrene(JobClocks clocks, MaterialShelf shelf) {
    this.clocks = clocks;
    this.shelf = shelf;
  }

  /** In ppm; empty without a room's size or without a cup. */
  OptionalDouble ppm(RoomName room, List<Job> jobs, Air air, Instant now) {
    List<CupsInRoom.Cup> cups = new ArrayList<>();
    boolean fanOn = false;
    for (Job job : jobs) {
      fanOn |= job.fanOn();
      job.steps().stream()
          .flatMap(step -> step.mixes().stream())
          .filter(mix -> mix.time().isAfter(now.minus(LOOKED_BACK)))
          .flatMap(mix -> cup(room, job, mix, now).stream())
          .forEach(cups::add);
    }
    Optional<VentilatedRoom> box = air.room(fanOn);
    return cups.isEmpty() || box.isEmpty()
        ? OptionalDouble.empty()
        : OptionalDouble.of(CupsInRoom.ppm(box.get(), cups));
  }

  private Optional<CupsInRoom.Cup> cup(RoomName room, Job job, StoredJobEvent mix, Instant now) {
    if (!(mix.event() instanceof JobEvent.Mixed mixed)) {
      return Optional.empty();
    }
    Optional<JobClocks.Clock> clock = clocks.of(room, job, mix, now);
    Optional<Material> can = shelf.find(mixed.cup().material()).map(MaterialShelf.Entry::material);
    if (clock.isEmpty() || can.isEmpty()) {
      return Optional.empty();
    }
    Optional<Duration> worked = likely(clock.get(), Stage.STOP_WETTING_OUT);
    Optional<Duration> gels = likely(clock.get(), Stage.FILM_GEL);
    if (worked.isEmpty() || gels.isEmpty() || worked.get().compareTo(gels.get()) > 0) {
      return Optional.empty();
    }
    double kg = mixed.cup().materialGrams() / GRAMS;
    return Optional.of(
        new CupsInRoom.Cup(
            Layup.of(batch(can.get(), kg), worked.get(), gels.get()),
            Duration.between(mix.time(), now)));
  }

  private static Layup.Batch batch(Material can, double kg) {
    return can.kind() == MaterialKind.LAMINATING_RESIN
        ? Layup.Batch.resin(kg, can.styrenePct().orElse(USUAL_RESIN_PCT))
        : Layup.Batch.gelCoat(kg, can.styrenePct().orElse(USUAL_GEL_COAT_PCT));
  }

  private static Optional<Duration> likely(JobClocks.Clock clock, Stage stage) {
    return clock
        .times(stage)
        .flatMap(JobClocks.Times::likely)
        .map(at -> Duration.between(clock.mixed(), at))
        .filter(span -> !span.isZero() && !span.isNegative())
        .filter(span -> span.compareTo(LONGEST_GEL) <= 0);
  }
}
