package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Supplier;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.dashboard.room.DashboardCore;
import org.layroom.dashboard.store.Bucket;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.cure.ClockInputs;
import org.layroom.predictor.cure.HardeningClock;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.cure.TemperaturePath;
import org.layroom.predictor.cure.TemperaturePoint;
import org.layroom.predictor.hardening.PartOutcome;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.mix.PartClocks;
import org.tinylog.Logger;

/** What the store remembers of a job: the room while it lasted, what was predicted and happened. */
final class JobRecord {
  private static final Duration BUCKET = Duration.ofMinutes(10);
  private static final List<String> SERIES =
      List.of(Series.TEMPERATURE, Series.MOLD_TEMPERATURE, Series.HUMIDITY, Series.VOC_LEVEL);

  /** Lowest, mean and highest value of a series over a stretch of time. */
  record Span(double min, double mean, double max) {}

  private final DashboardCore core;
  private final MaterialShelf shelf;
  private final GelTests tests;
  private final Supplier<List<PartOutcome>> outcomes;
  private final RoomName room;
  private final Job job;
  private final Instant now;

  JobRecord(
      DashboardCore core,
      MaterialShelf shelf,
      GelTests tests,
      Supplier<List<PartOutcome>> outcomes,
      RoomName room,
      Job job,
      Instant now) {
    this.core = core;
    this.shelf = shelf;
    this.tests = tests;
    this.outcomes = outcomes;
    this.room = room;
    this.job = job;
    this.now = now;
  }

  Job job() {
    return job;
  }

  /** The end of the job, or now while it lasts. */
  Instant end() {
    return job.endedAt().orElse(now);
  }

  /** All cups, the oldest first. */
  List<StoredJobEvent> mixes() {
    return job.steps().stream().flatMap(step -> step.mixes().stream()).toList();
  }

  /** The steps of a kind, in order. */
  List<Step> steps(StepKind kind) {
    return job.steps().stream().filter(step -> step.planned().kind() == kind).toList();
  }

  Optional<Material> material(String id) {
    return shelf.find(id).map(MaterialShelf.Entry::material);
  }

  /** What a series did between two times; empty when nothing good was stored. */
  Optional<Span> span(String series, Instant from, Instant to) {
    if (!from.isBefore(to)) {
      return Optional.empty();
    }
    List<Bucket> buckets =
        core.store().history().between(room, named(series), from, to, 1).buckets();
    return buckets.stream().findFirst().map(b -> new Span(b.min(), b.mean(), b.max()));
  }

  private String named(String series) {
    return series.equals(Series.MOLD_TEMPERATURE)
        ? MeasuredMold.series(core.snapshot(room), job.molds()).orElse(series)
        : series;
  }

  /** How old a part was as hardening counts it, hours at 20 degC; empty when not measured. */
  OptionalDouble hardeningHours(StoredJobEvent mix, Instant until) {
    if (!mix.time().isBefore(until)) {
      return OptionalDouble.empty();
    }
    long count = Duration.between(mix.time(), until).toMinutes() / BUCKET.toMinutes();
    List<TemperaturePoint> readings = new ArrayList<>();
    readings.add(new TemperaturePoint(0, StageWindows.cup(mix).moldC()));
    for (Bucket bucket :
        core.store()
            .history()
            .between(
                room,
                named(Series.MOLD_TEMPERATURE),
                mix.time(),
                until,
                (int) Math.max(1, Math.min(2000, count)))
            .buckets()) {
      double minutes = Duration.between(mix.time(), bucket.to()).toMillis() / 60_000.0;
      readings.add(new TemperaturePoint(minutes, bucket.mean()));
    }
    if (readings.size() < 2) {
      return OptionalDouble.empty();
    }
    double minutes = Duration.between(mix.time(), until).toMillis() / 60_000.0;
    return OptionalDouble.of(HardeningClock.age(TemperaturePath.of(readings), minutes).hours());
  }

  /** Likely hours at 20 degC until a part of this cup may leave the mold, with what was learned. */
  OptionalDouble likelyDemoldHours(StoredJobEvent mix) {
    JobEvent.Cup cup = StageWindows.cup(mix);
    Optional<Material> can = material(cup.material());
    if (can.isEmpty()) {
      return OptionalDouble.empty();
    }
    try {
      ClockInputs plain =
          ClockInputs.forJob(
              can.get(),
              tests.calibration(can.get()).belief(),
              cup.doseByWeightPct(),
              TemperatureOutlook.constant(cup.resinC()),
              TemperatureOutlook.constant(cup.moldC()),
              can.get().hardening().taughtBy(outcomes.get(), cup.material()));
      return OptionalDouble.of(
          PartClocks.of(plain, can.get(), JobClocks.pass(cup), cup.moldC()).likelyDemoldHours());
    } catch (InvalidMaterial e) {
      Logger.error("No demold time for {}: {}", cup.material(), e.getMessage());
      return OptionalDouble.empty();
    }
  }

  /** The mean mold temperature from mixing until a time, degC, for a gel test. */
  double meanMoldC(StoredJobEvent mix, Instant until) {
    return span(Series.MOLD_TEMPERATURE, mix.time(), until)
        .map(Span::mean)
        .orElse(TemperaturePath.constant(StageWindows.cup(mix).moldC()).at(0));
  }

  /** Adds the room during each step and the predictions beside what happened. */
  void addTo(ObjectNode json) {
    ArrayNode stretches = json.putArray("rooms");
    for (Step step : job.steps()) {
      from(step).ifPresent(from -> stretch(stretches.addObject(), step, from, until(step)));
    }
    ArrayNode compared = json.putArray("compared");
    for (StoredJobEvent mix : mixes()) {
      compare(compared, mix);
    }
  }

  private static Optional<Instant> from(Step step) {
    return step.applied().or(() -> step.mixes().stream().map(StoredJobEvent::time).findFirst());
  }

  /** A step's own time lasts until the next one begins. */
  private Instant until(Step step) {
    Instant from = from(step).orElse(now);
    return job.steps().stream()
        .map(JobRecord::from)
        .flatMap(Optional::stream)
        .filter(other -> other.isAfter(from))
        .min(Instant::compareTo)
        .orElse(end());
  }

  private void stretch(ObjectNode json, Step step, Instant from, Instant to) {
    json.put("step", step.planned().id()).put("name", step.planned().name());
    json.put("from", from.toString()).put("to", to.toString());
    for (String series : SERIES) {
      span(series, from, to)
          .ifPresent(
              s ->
                  json.putObject(series)
                      .put("min", s.min())
                      .put("mean", s.mean())
                      .put("max", s.max()));
    }
  }

  private void compare(ArrayNode list, StoredJobEvent mix) {
    job.gelTime(mix.id()).ifPresent(gel -> compare(list, mix, "gel", "gelled", Optional.of(gel)));
    if (mixes().get(mixes().size() - 1).equals(mix)) {
      Optional<Instant> demolded =
          steps(StepKind.DEMOLD).stream().map(Step::done).flatMap(Optional::stream).findFirst();
      if (demolded.isPresent()) {
        compare(list, mix, "demold", "demolded", demolded);
      }
    }
  }

  private static void compare(
      ArrayNode list, StoredJobEvent mix, String stage, String what, Optional<Instant> happened) {
    for (JsonNode predicted : mix.predicted()) {
      if (predicted.path("stage").asText().equals(stage)) {
        ObjectNode node = list.addObject().put("mix", mix.id()).put("what", what);
        node.set("predicted", predicted.path("from"));
        happened.ifPresent(time -> node.put("happened", time.toString()));
      }
    }
  }
}
