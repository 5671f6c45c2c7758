package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.answer.job.JobClocks.Clock;
import org.layroom.dashboard.answer.job.JobClocks.Times;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.JobJson;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.device.telemetry.RoomName;
import org.layroom.predictor.cure.StageTime;

/** A job as JSON: in short for lists and lanes, whole for its own screen. */
final class JobView {
  private static final double THINNEST_FILM_MM = 0.3;
  private static final double THICKEST_FILM_MM = 0.61;

  private final JobClocks clocks;
  private final StageWindows windows;
  private final MaterialShelf shelf;
  private final GelTaps gels;

  JobView(JobClocks clocks, StageWindows windows, MaterialShelf shelf, GelTaps gels) {
    this.gels = gels;
    this.clocks = clocks;
    this.windows = windows;
    this.shelf = shelf;
  }

  /** What a list and the strip's lanes need. */
  ObjectNode brief(RoomName room, Job job, Instant now) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("id", job.id()).put("part", job.part());
    ArrayNode molds = json.putArray("molds");
    job.molds().forEach(molds::add);
    json.put("state", job.state().id()).put("stateWords", job.state().words());
    json.put("begun", job.begunAt().toString()).put("position", job.position());
    job.endedAt().ifPresent(end -> json.put("ended", end.toString()));
    ArrayNode symptoms = json.putArray("symptoms");
    job.symptoms().forEach(symptom -> symptoms.add(symptom.words()));
    ArrayNode steps = json.putArray("steps");
    job.steps().forEach(step -> step(steps.addObject(), room, job, step, now));
    windows.next(room, job, now).ifPresent(next -> next(json.putObject("next"), next));
    return json;
  }

  /** Everything. */
  ObjectNode whole(RoomName room, Job job, Instant now) {
    ObjectNode json = brief(room, job, now);
    json.put("fanOn", job.fanOn()).put("respiratorOn", job.respiratorOn());
    ArrayNode events = json.putArray("events");
    for (StoredJobEvent kept : job.events()) {
      ObjectNode node = events.addObject();
      node.put("id", kept.id()).put("time", kept.time().toString());
      node.put("undone", undone(job, kept));
      node.set("event", JobJson.write(kept.event()));
      node.set("room", kept.room());
      if (!kept.predicted().isMissingNode()) {
        node.set("predicted", kept.predicted());
      }
    }
    return json;
  }

  private static boolean undone(Job job, StoredJobEvent kept) {
    return !(kept.event() instanceof JobEvent.Undone)
        && job.standing().stream().noneMatch(standing -> standing.id().equals(kept.id()));
  }

  private static void next(ObjectNode json, StageWindows.Next next) {
    json.put("step", next.step()).put("words", next.words());
    next.from().ifPresent(times -> times(json, "from", times));
    next.until().ifPresent(times -> times(json, "until", times));
  }

  static void times(ObjectNode json, String name, Times times) {
    ObjectNode node = json.putObject(name);
    put(node, "earliest", times.earliest());
    put(node, "likely", times.likely());
    put(node, "latest", times.latest());
  }

  private static void put(ObjectNode node, String name, Optional<Instant> time) {
    if (time.isPresent()) {
      node.put(name, time.get().toString());
    } else {
      node.putNull(name);
    }
  }

  private void step(ObjectNode json, RoomName room, Job job, Step step, Instant now) {
    json.put("id", step.planned().id()).put("kind", step.planned().kind().id());
    json.put("name", step.planned().name()).put("state", step.state());
    step.planned().material().ifPresent(material -> json.put("material", material));
    step.applied().ifPresent(at -> json.put("applied", at.toString()));
    step.planned()
        .kind()
        .waits()
        .ifPresent(
            wait ->
                json.putObject("wait")
                    .put("earliestMinutes", wait.earliestMinutes())
                    .put("latestMinutes", wait.latestMinutes())
                    .put("words", wait.words()));
    step.done().ifPresent(at -> json.put("done", at.toString()));
    step.filmMm()
        .ifPresent(mm -> json.putObject("film").put("millimeters", mm).put("words", film(mm)));
    step.check().ifPresent(check -> check(json.putObject("check"), check));
    ArrayNode mixes = json.putArray("mixes");
    for (StoredJobEvent mix : step.mixes()) {
      mix(mixes.addObject(), room, job, mix, now);
    }
  }

  /** A wet film reading in words; the limits are those of gel coat guides. */
  static String film(double millimeters) {
    String read = String.format(Locale.ROOT, "%.2f mm", millimeters);
    if (millimeters < THINNEST_FILM_MM) {
      return read + ": thin; under 0.3 mm it wrinkles under resin. Spray or brush more.";
    }
    return millimeters > THICKEST_FILM_MM
        ? read + ": thick; over 0.6 mm it may sag and crack."
        : read + ": within the gel coat guides.";
  }

  private static void check(ObjectNode json, JobEvent.Checked check) {
    json.put("fingernail", check.fingernail()).put("tap", check.tap());
    json.put("noGive", check.noGive()).put("hard", check.hard());
    ArrayNode readings = json.putArray("hardness");
    check.hardness().forEach(readings::add);
    barcol(check.hardness()).ifPresent(mean -> json.put("hardnessMean", mean));
    json.put("hardnessWords", barcolWords(check.hardness()));
  }

  /** The mean of ten or more readings (ASTM D2583); fewer are shown, not averaged. */
  static OptionalDouble barcol(List<Double> readings) {
    return readings.size() < 10
        ? OptionalDouble.empty()
        : readings.stream().mapToDouble(Double::doubleValue).average();
  }

  private static String barcolWords(List<Double> readings) {
    if (readings.isEmpty()) {
      return "";
    }
    OptionalDouble mean = barcol(readings);
    if (mean.isEmpty()) {
      return readings.size() + " readings: take 10 to 12 for an average (ASTM D2583).";
    }
    return String.format(
        Locale.ROOT,
        "Barcol %.0f, average of %d readings; moldings should reach 30 or more.",
        mean.getAsDouble(),
        readings.size());
  }

  private void mix(ObjectNode json, RoomName room, Job job, StoredJobEvent mix, Instant now) {
    JobEvent.Cup cup = StageWindows.cup(mix);
    json.put("id", mix.id()).put("time", mix.time().toString());
    json.put("material", cup.material());
    json.put(
        "materialName",
        shelf.find(cup.material()).map(e -> e.material().name()).orElse(cup.material()));
    json.put("materialGrams", cup.materialGrams()).put("doseByWeightPct", cup.doseByWeightPct());
    cup.catalystMl().ifPresent(ml -> json.put("catalystMl", ml));
    if (mix.around().path("warned") instanceof ArrayNode warned) {
      json.set("warned", warned);
    }
    json.put("resinC", cup.resinC()).put("moldC", cup.moldC()).put("typed", cup.typed());
    job.gelOf(mix.id()).ifPresent(gel -> json.put("gelled", gel.time().toString()));
    gels.question(job, mix)
        .ifPresent(
            asked ->
                json.putObject("gelAsked")
                    .put("test", asked.test())
                    .put("event", asked.event())
                    .put("words", asked.words()));
    Optional<Clock> clock = job.open() ? clocks.of(room, job, mix, now) : Optional.empty();
    ArrayNode stages = json.putArray("stages");
    if (clock.isPresent()) {
      double elapsed = Duration.between(mix.time(), now).toMillis() / 60_000.0;
      for (StageTime stage : clock.get().stages()) {
        ObjectNode node = stages.addObject();
        node.put("stage", stage.stage().id()).put("name", stage.stage().words());
        times(node, "from", Times.of(mix.time(), stage.fromMinutes()));
        stage.untilMinutes().ifPresent(until -> times(node, "until", Times.of(mix.time(), until)));
        node.put("progress", stage.at(elapsed).name().toLowerCase(Locale.ROOT).replace('_', '-'));
        node.put("words", stage.words());
      }
    } else if (mix.predicted() instanceof ArrayNode predicted) {
      stages.addAll(predicted);
    }
    ArrayNode moved = json.putArray("moved");
    for (StageShift shift : shifts(mix, clock)) {
      ObjectNode node = moved.addObject().put("stage", shift.stage().id());
      node.put("minutes", shift.by().toSeconds() / 60.0).put("words", shift.words());
    }
  }

  /** Which stages have moved since the cup was mixed, by over 5 minutes and over 3 percent. */
  private static List<StageShift> shifts(StoredJobEvent mix, Optional<Clock> clock) {
    return clock.stream()
        .flatMap(
            now ->
                now.stages().stream()
                    .flatMap(stage -> StageShift.of(mix.predicted(), stage, now.mixed()).stream()))
        .toList();
  }
}
