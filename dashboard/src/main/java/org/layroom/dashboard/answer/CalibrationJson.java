package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.ContradictingGelTest;
import org.layroom.predictor.calibration.DataSheetFit;
import org.layroom.predictor.calibration.SuggestedGelTest;
import org.layroom.predictor.material.DoseRange;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.MaterialKind;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.mix.AgedTemperature;
import org.layroom.predictor.mix.MixAnswer;
import org.layroom.predictor.mix.MixQuestion;

/**
 * What this can has taught and could teach: how its data sheet's table fits, which gel tests
 * contradict the others, and which test would narrow the band most.
 */
record CalibrationJson(
    Optional<DataSheetFit> fit,
    Optional<ContradictingGelTest> drift,
    Optional<String> contradiction,
    Optional<SuggestedGelTest> nextTest) {
  private static final double ROOM_C = 20;

  /** A cup can be held so much colder or warmer in a water bath (chosen). */
  private static final double AWAY_K = 5;

  static CalibrationJson of(MixQuestion question, MixAnswer answer) {
    return new CalibrationJson(
        fit(question),
        question.calibration().drift(),
        question.calibration().contradiction(),
        answer.dose().flatMap(dose -> suggestion(question, dose.doseByWeightPct())));
  }

  private static Optional<DataSheetFit> fit(MixQuestion question) {
    try {
      return Calibration.fit(question.material());
    } catch (InvalidMaterial e) {
      return Optional.empty();
    }
  }

  /** The best test at the job's own temperature and dose or at others that can be had. */
  private static Optional<SuggestedGelTest> suggestion(MixQuestion question, double dosePct) {
    Optional<AgedTemperature> job =
        question.temperatures().resin().or(() -> question.temperatures().mold());
    if (job.isEmpty() || dosePct < 0.5 || dosePct > 4) {
      return Optional.empty();
    }
    double jobC = Math.max(5, Math.min(40, job.get().temperatureC()));
    boolean film = question.material().kind() != MaterialKind.LAMINATING_RESIN;
    DoseRange doses = question.material().doseByWeightPct();
    TemperatureRange range = question.material().temperatureCOrTypical();
    List<Double> reachable =
        Stream.of(jobC, ROOM_C, jobC - AWAY_K, jobC + AWAY_K)
            .filter(c -> c == jobC || (c >= range.min() && c <= range.max()))
            .toList();
    List<Double> pcts =
        Stream.of(dosePct, doses.min(), doses.max()).filter(pct -> pct >= 0.5 && pct <= 4).toList();
    return Optional.of(question.calibration().nextTest(jobC, dosePct, film, reachable, pcts));
  }

  void addTo(ObjectNode json) {
    drift.ifPresent(found -> json.put("drift", found.words()));
    contradiction.ifPresent(words -> json.put("contradiction", words));
    nextTest.ifPresent(
        next ->
            json.putObject("nextTest")
                .put("where", next.where().name().toLowerCase(Locale.ROOT).replace('_', '-'))
                .put("temperatureC", next.temperatureC())
                .put("doseByWeightPct", next.doseByWeightPct())
                .put("words", next.words()));
    fit.ifPresent(table -> fit(json.putObject("dataSheetFit"), table));
  }

  private static void fit(ObjectNode json, DataSheetFit table) {
    json.put("activationEnergyKJPerMol", table.Ea());
    json.put("doseExponent", table.doseExponent());
    json.put("gelMinutes", table.gelMinutes());
    ArrayNode rows = json.putArray("residuals");
    for (DataSheetFit.Residual residual : table.residuals()) {
      rows.addObject()
          .put("temperatureC", residual.row().temperatureC())
          .put("doseByWeightPct", residual.row().doseByWeightPct())
          .put("gelMinutes", residual.row().minutes())
          .put("fittedMinutes", residual.fittedMinutes())
          .put("offPct", residual.offPct());
    }
  }

  List<String> words() {
    List<String> lines = new ArrayList<>();
    fit.ifPresent(table -> lines.addAll(fitWords(table)));
    drift.ifPresent(found -> lines.add("Note: " + found.words()));
    contradiction.ifPresent(words -> lines.add("Note: " + words));
    nextTest.ifPresent(next -> lines.add(next.words()));
    return lines;
  }

  private static List<String> fitWords(DataSheetFit table) {
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "Data sheet table: fitted with %.0f kJ/mol and dose exponent %.2f",
            table.Ea(),
            table.doseExponent()));
    for (DataSheetFit.Residual residual : table.residuals()) {
      lines.add(
          String.format(
              Locale.ROOT,
              "  %.0f °C, %.2f %%: sheet %.1f min, fit %.1f min (%+.0f %%)",
              residual.row().temperatureC(),
              residual.row().doseByWeightPct(),
              residual.row().minutes(),
              residual.fittedMinutes(),
              residual.offPct()));
    }
    return lines;
  }
}
