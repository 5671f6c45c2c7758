package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.answer.job.JobClocks.Times;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StepKind;
import org.layroom.dashboard.job.StoredJobEvent;
import org.layroom.dashboard.job.Symptom;
import org.layroom.device.telemetry.Series;
import org.layroom.predictor.limits.ShopLimits;
import org.layroom.predictor.material.Material;

/**
 * What a job's own record holds that is known to cause a symptom: possibilities with their
 * evidence, never a verdict. Which condition causes which symptom is common practice, no source,
 * unless a limit of the shop is named. It is long because it is one table: a rule for each cause of
 * each symptom, read side by side.
 */
final class SymptomCauses {
  private static final Duration FIRST_NIGHT = Duration.ofHours(16);
  private static final double THIN_MM = 0.3;
  private static final double THICK_MM = 0.61;
  private static final double HOT_DOSE_PCT = 2.0;
  private static final double LOW_DOSE_PCT = 1.0;
  private static final int MANY_CUPS = 4;

  /** How a possibility stands in the record. */
  enum Found {
    SEEN("seen", "in the record"),
    NOT_SEEN("not-seen", "not in the record"),
    UNKNOWN("unknown", "not recorded");

    private final String id;
    private final String words;

    Found(String id, String words) {
      this.id = id;
      this.words = words;
    }
  }

  /** One possibility. */
  record Possibility(Found found, String what, String evidence) {}

  private final JobRecord record;
  private final List<Possibility> found = new ArrayList<>();

  private SymptomCauses(JobRecord record) {
    this.record = record;
  }

  /** The possibilities for a symptom: those in the record first. */
  static List<Possibility> of(JobRecord record, Symptom symptom) {
    SymptomCauses causes = new SymptomCauses(record);
    switch (symptom) {
      case TACKY -> {
        causes.airInhibited();
        causes.lowDose();
        causes.cold();
        causes.damp();
      }
      case SOFT -> {
        causes.lowDose();
        causes.cold();
        causes.fewWarmHours();
        causes.damp();
        causes.vaporInTheMold();
      }
      case WRINKLED -> {
        causes.laminatedEarly();
        causes.film(true);
        causes.lowDose();
        causes.cold();
      }
      case STUCK -> {
        causes.shortWaits();
        causes.leftOut();
        causes.fewWarmHours();
      }
      case WARPED -> {
        causes.fewWarmHours();
        causes.pulledUnchecked();
        causes.hot();
      }
      case CRACKED -> {
        causes.hot();
        causes.film(false);
        causes.manyLayers();
      }
      case PINHOLES -> {
        causes.fastGel();
        causes.cold();
        causes.damp();
      }
    }
    causes.found.sort((a, b) -> a.found().compareTo(b.found()));
    return List.copyOf(causes.found);
  }

  /** As JSON. */
  static void addTo(ArrayNode list, List<Possibility> possibilities) {
    for (Possibility possibility : possibilities) {
      ObjectNode node = list.addObject();
      node.put("found", possibility.found().id).put("foundWords", possibility.found().words);
      node.put("what", possibility.what()).put("evidence", possibility.evidence());
    }
  }

  private void add(Found state, String what, String evidence) {
    found.add(new Possibility(state, what, evidence));
  }

  private void add(boolean seen, String what, String evidence) {
    add(seen ? Found.SEEN : Found.NOT_SEEN, what, evidence);
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }

  private void airInhibited() {
    Optional<StoredJobEvent> last =
        record.mixes().isEmpty()
            ? Optional.empty()
            : Optional.of(record.mixes().get(record.mixes().size() - 1));
    Optional<Material> material =
        last.flatMap(mix -> record.material(StageWindows.cup(mix).material()));
    if (material.isEmpty()) {
      add(Found.UNKNOWN, "Unwaxed resin stays tacky in air", "The last material is not known.");
      return;
    }
    add(
        !material.get().waxed(),
        "Unwaxed resin stays tacky in air; that is not undercured",
        material.get().waxed()
            ? "The last material was waxed."
            : "The last cup was " + material.get().name() + ", which is not waxed.");
  }

  private void lowDose() {
    Optional<StoredJobEvent> lowest =
        record.mixes().stream().min((a, b) -> Double.compare(dose(a), dose(b)));
    if (lowest.isEmpty()) {
      add(Found.UNKNOWN, "Too little catalyst", "No cup is recorded.");
      return;
    }
    double least =
        record
            .material(StageWindows.cup(lowest.get()).material())
            .map(material -> material.doseByWeightPct().min())
            .orElse(LOW_DOSE_PCT);
    add(
        dose(lowest.get()) < least,
        "Too little catalyst",
        text("Lowest dose %.2f %%; the can asks for %.2f %% or more.", dose(lowest.get()), least));
  }

  private static double dose(StoredJobEvent mix) {
    return StageWindows.cup(mix).doseByWeightPct();
  }

  private void cold() {
    Optional<JobRecord.Span> mold = afterMixing(Series.MOLD_TEMPERATURE);
    if (mold.isEmpty()) {
      add(Found.UNKNOWN, "Too cold", "No temperature was recorded after mixing.");
      return;
    }
    add(
        mold.get().min() < ShopLimits.COLDEST_DOSE_C,
        "Too cold in the hours after mixing",
        text(
            "Lowest %.1f °C in the 16 h after mixing; below 15 °C it hardens slowly and not fully.",
            mold.get().min()));
  }

  private Optional<JobRecord.Span> afterMixing(String series) {
    if (record.mixes().isEmpty()) {
      return Optional.empty();
    }
    Instant from = record.mixes().get(0).time();
    Instant last = record.mixes().get(record.mixes().size() - 1).time();
    Instant to = last.plus(FIRST_NIGHT);
    return record.span(series, from, to.isBefore(record.end()) ? to : record.end());
  }

  private void damp() {
    Optional<JobRecord.Span> humidity = afterMixing(Series.HUMIDITY);
    if (humidity.isEmpty()) {
      add(Found.UNKNOWN, "Damp air", "No humidity was recorded after mixing.");
      return;
    }
    add(
        humidity.get().max() > ShopLimits.DAMP_HUMIDITY_PCT,
        "Damp air",
        text(
            "Highest %.0f %% relative humidity after mixing; up to 80 %% is usual.",
            humidity.get().max()));
  }

  private void vaporInTheMold() {
    add(
        Found.UNKNOWN,
        "Vapor trapped in a deep mold keeps the gel coat soft",
        "Not measured. Was the mold tilted so that vapor could drain?");
  }

  private void fewWarmHours() {
    Optional<Step> demold =
        record.steps(StepKind.DEMOLD).stream().filter(s -> s.done().isPresent()).findFirst();
    if (record.mixes().isEmpty()) {
      add(Found.UNKNOWN, "Demolded too early", "No cup is recorded.");
      return;
    }
    StoredJobEvent last = record.mixes().get(record.mixes().size() - 1);
    Instant until = demold.flatMap(Step::done).orElse(record.end());
    OptionalDouble hours = record.hardeningHours(last, until);
    Optional<Material> material = record.material(StageWindows.cup(last).material());
    if (hours.isEmpty() || material.isEmpty()) {
      add(Found.UNKNOWN, "Demolded too early", "No temperature was recorded after the last cup.");
      return;
    }
    OptionalDouble likely = record.likelyDemoldHours(last);
    if (likely.isEmpty()) {
      add(Found.UNKNOWN, "Demolded too early", "The gel times of this can contradict each other.");
      return;
    }
    double target = likely.getAsDouble();
    add(
        hours.getAsDouble() < target,
        "Too little cure before it was demolded",
        text(
            "Cure since the last cup equals %.1f h at 20 °C; a part of this can is likely hard"
                + " after %.0f h.",
            hours.getAsDouble(), target));
  }

  private void laminatedEarly() {
    Optional<StoredJobEvent> coat = newest(StepKind.GEL_COAT);
    Optional<StoredJobEvent> layer =
        record.steps(StepKind.LAYER).stream().flatMap(s -> s.mixes().stream()).findFirst();
    if (coat.isEmpty() || layer.isEmpty()) {
      add(
          Found.UNKNOWN,
          "Laminated before the gel coat was ready",
          "Gel coat or first layer is not recorded.");
      return;
    }
    Optional<Times> ready = predicted(coat.get(), "ready-to-laminate");
    Optional<Instant> likely = ready.flatMap(Times::likely);
    if (likely.isEmpty()) {
      add(Found.UNKNOWN, "Laminated before the gel coat was ready", "No prediction was recorded.");
      return;
    }
    long minutes = Duration.between(coat.get().time(), layer.get().time()).toMinutes();
    long needed = Duration.between(coat.get().time(), likely.get()).toMinutes();
    add(
        layer.get().time().isBefore(likely.get()),
        "Laminated before the gel coat was ready",
        text(
            "First layer mixed %d min after the gel coat; likely ready after %d min.",
            minutes, needed));
  }

  private Optional<StoredJobEvent> newest(StepKind kind) {
    return record.steps(kind).stream()
        .flatMap(step -> step.mixes().stream())
        .reduce((first, second) -> second);
  }

  private static Optional<Times> predicted(StoredJobEvent mix, String stage) {
    for (var node : mix.predicted()) {
      String likely = node.path("from").path("likely").asText("");
      if (node.path("stage").asText().equals(stage) && !likely.isEmpty()) {
        Optional<Instant> time = Optional.of(Instant.parse(likely));
        return Optional.of(new Times(time, time, time));
      }
    }
    return Optional.empty();
  }

  private void film(boolean thin) {
    OptionalDouble read =
        record.steps(StepKind.GEL_COAT).stream()
            .map(Step::filmMm)
            .filter(OptionalDouble::isPresent)
            .mapToDouble(OptionalDouble::getAsDouble)
            .reduce((a, b) -> thin ? Math.min(a, b) : Math.max(a, b));
    String what = thin ? "Gel coat film too thin when resin went on" : "Gel coat film too thick";
    if (read.isEmpty()) {
      add(Found.UNKNOWN, what, "No wet film reading was taken.");
      return;
    }
    add(
        thin ? read.getAsDouble() < THIN_MM : read.getAsDouble() > THICK_MM,
        what,
        text("Wet film %.2f mm; gel coat guides want 0.30 to 0.61 mm.", read.getAsDouble()));
  }

  private void shortWaits() {
    List<String> shorter = new ArrayList<>();
    boolean any = false;
    for (Step step : record.job().steps()) {
      Optional<StepKind.Wait> wait = step.planned().kind().waits();
      if (wait.isPresent() && step.applied().isPresent() && step.done().isPresent()) {
        any = true;
        long minutes = Duration.between(step.applied().get(), step.done().get()).toMinutes();
        if (minutes < wait.get().earliestMinutes()) {
          shorter.add(text("%s %d min", step.planned().name(), minutes));
        }
      }
    }
    if (!any) {
      add(Found.UNKNOWN, "Release not dry", "No drying time of wax or release is recorded.");
      return;
    }
    add(
        !shorter.isEmpty(),
        "Wax or release not dry before the gel coat",
        shorter.isEmpty()
            ? "All drying times were long enough."
            : String.join(", ", shorter) + ".");
  }

  private void leftOut() {
    List<String> left =
        record.job().steps().stream()
            .filter(step -> step.skipped() && step.planned().kind().waits().isPresent())
            .map(step -> step.planned().name())
            .toList();
    add(
        !left.isEmpty(),
        "A coat of wax or release was skipped",
        left.isEmpty() ? "None was skipped." : String.join(", ", left) + ".");
  }

  private void pulledUnchecked() {
    boolean soft =
        record.job().standing().stream()
            .map(StoredJobEvent::event)
            .filter(JobEvent.Checked.class::isInstance)
            .anyMatch(event -> !((JobEvent.Checked) event).hard());
    add(
        soft,
        "Found soft in a check before demolding",
        soft ? "A hand check found it not hard." : "Every hand check found it hard.");
  }

  private void hot() {
    OptionalDouble highest = record.mixes().stream().mapToDouble(SymptomCauses::dose).max();
    if (highest.isEmpty()) {
      add(Found.UNKNOWN, "Cured too hot", "No cup is recorded.");
      return;
    }
    add(
        highest.getAsDouble() > HOT_DOSE_PCT,
        "High catalyst dose: it cures hot and shrinks",
        text(
            "Highest dose %.2f %%; 1.25 to 2 %% is preferred for laminating.",
            highest.getAsDouble()));
  }

  private void manyLayers() {
    List<StoredJobEvent> layers =
        record.steps(StepKind.LAYER).stream().flatMap(step -> step.mixes().stream()).toList();
    boolean quick =
        layers.size() > MANY_CUPS
            && Duration.between(layers.get(0).time(), layers.get(layers.size() - 1).time())
                    .compareTo(Duration.ofHours(1))
                < 0;
    add(
        quick,
        "Many layers at once: it overheats",
        text("%d cups for the layers%s.", layers.size(), quick ? " within an hour" : ""));
  }

  private void fastGel() {
    OptionalDouble quickest =
        record.mixes().stream()
            .flatMap(
                mix ->
                    record
                        .job()
                        .gelTime(mix.id())
                        .map(gel -> Duration.between(mix.time(), gel).toSeconds() / 60.0)
                        .stream())
            .mapToDouble(Double::doubleValue)
            .min();
    if (quickest.isEmpty()) {
      add(
          Found.UNKNOWN,
          "Gelled before air bubbles could escape",
          "No gel was recorded for this part.");
      return;
    }
    add(
        quickest.getAsDouble() < 10,
        "Gelled before air bubbles could escape",
        text("The fastest cup gelled after %.0f min.", quickest.getAsDouble()));
  }
}
