package org.layroom.dashboard.answer.job;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.layroom.dashboard.job.Job;
import org.layroom.dashboard.job.JobEvent;
import org.layroom.dashboard.job.Step;
import org.layroom.dashboard.job.StoredJobEvent;

/** All cups of all parts as CSV (RFC 4180), a row for each cup. Times in UTC, ISO 8601. */
final class JobsCsv {
  private static final List<String> HEAD =
      List.of(
          "part",
          "molds",
          "begun",
          "ended",
          "state",
          "seen",
          "step",
          "mixed",
          "material",
          "material_g",
          "dose_by_weight_pct",
          "catalyst_ml",
          "resin_degC",
          "mold_degC",
          "temperatures_typed",
          "predicted_gel_min",
          "gel_min",
          "predicted_demold");

  private JobsCsv() {}

  static void write(List<Job> jobs, Appendable out) throws IOException {
    CSVPrinter csv = new CSVPrinter(out, CSVFormat.RFC4180);
    csv.printRecord(HEAD);
    for (Job job : jobs) {
      for (Step step : job.steps()) {
        for (StoredJobEvent mix : step.mixes()) {
          csv.printRecord(row(job, step, mix));
        }
      }
    }
    csv.flush();
  }

  private static List<String> row(Job job, Step step, StoredJobEvent mix) {
    JobEvent.Cup cup = StageWindows.cup(mix);
    String seen =
        job.standing().stream()
            .map(StoredJobEvent::event)
            .filter(JobEvent.Seen.class::isInstance)
            .map(event -> ((JobEvent.Seen) event).symptom().words())
            .collect(Collectors.joining("; "));
    return List.of(
        guarded(job.part()),
        guarded(String.join("; ", job.molds())),
        job.begunAt().toString(),
        job.endedAt().map(Instant::toString).orElse(""),
        job.state().words(),
        seen,
        guarded(step.planned().name()),
        mix.time().toString(),
        cup.material(),
        Double.toString(cup.materialGrams()),
        Double.toString(cup.doseByWeightPct()),
        cup.catalystMl().isPresent() ? Double.toString(cup.catalystMl().getAsDouble()) : "",
        Double.toString(cup.resinC()),
        Double.toString(cup.moldC()),
        Boolean.toString(cup.typed()),
        likely(mix, "gel").map(time -> minutes(mix, time)).orElse(""),
        job.gelTime(mix.id()).map(gel -> minutes(mix, gel)).orElse(""),
        likely(mix, "demold").map(Instant::toString).orElse(""));
  }

  /** Text that a spreadsheet would run as a formula is kept text by a leading apostrophe. */
  private static String guarded(String text) {
    return !text.isEmpty() && "=+-@\t\r".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
  }

  private static Optional<Instant> likely(StoredJobEvent mix, String stage) {
    for (JsonNode predicted : mix.predicted()) {
      String time = predicted.path("from").path("likely").asText("");
      if (predicted.path("stage").asText().equals(stage) && !time.isEmpty()) {
        return Optional.of(Instant.parse(time));
      }
    }
    return Optional.empty();
  }

  private static String minutes(StoredJobEvent mix, Instant time) {
    return Double.toString(Duration.between(mix.time(), time).toMillis() / 60_000.0);
  }
}
