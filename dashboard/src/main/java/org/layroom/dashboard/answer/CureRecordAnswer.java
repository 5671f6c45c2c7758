package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.cure.CureAnswer;
import org.layroom.predictor.cure.CureRecord;
import org.layroom.predictor.cure.OverdueGel;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.cure.TemperaturePoint;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.material.InvalidMaterial;

/** How far a recorded temperature has brought a layup, as JSON and in words. */
public final class CureRecordAnswer {
  private CureRecordAnswer() {}

  /**
   * The answer for a record.
   *
   * @param stillWet whether the layer is seen to be wet at the end of the record
   * @param noted what the reading of the record has to tell
   */
  public static Answer of(
      MaterialShelf.Entry material,
      double doseByWeightPct,
      List<TemperaturePoint> points,
      boolean stillWet,
      List<Warning> noted) {
    try {
      return of(
          material,
          CureRecord.answer(
              material.material(),
              Calibration.of(material.material()).belief(),
              doseByWeightPct,
              points),
          stillWet,
          noted);
    } catch (InvalidMaterial e) {
      return Answer.refusal(
          e.problems().stream()
              .map(p -> new Refusal(p.field(), p.value(), p.limit(), p.reason()))
              .toList());
    }
  }

  /** What to do about a layer that has not set by its latest time. */
  private static List<Warning> overdue(MaterialShelf.Entry material, CureAnswer cure) {
    return cure.stages().stream()
        .filter(stage -> stage.stage() == Stage.FILM_GEL)
        .flatMap(
            stage ->
                OverdueGel.advice(material.material().kind(), stage, cure.endMinutes()).stream())
        .toList();
  }

  private static Answer of(
      MaterialShelf.Entry material, CureAnswer cure, boolean stillWet, List<Warning> noted) {
    if (!cure.refused().isEmpty()) {
      return Answer.refusal(cure.refused());
    }
    List<Warning> warnings = new ArrayList<>(noted);
    warnings.addAll(cure.warnings());
    if (stillWet) {
      warnings.addAll(overdue(material, cure));
    }
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("material", material.material().id()).put("materialName", material.label());
    json.put("endMinutes", cure.endMinutes());
    json.put("equivalentHours", cure.equivalentHours());
    json.put("degreeHours", cure.degreeHours());
    json.put("datumC", cure.datumC());
    CureJson.stages(json, cure.stages());
    Answer.outcome(json, List.of(), warnings);
    List<String> words = new ArrayList<>();
    words.add(material.label());
    words.add(
        String.format(
            Locale.ROOT,
            "%s recorded. Cure equals %.2f h at 20 °C (%.1f °C·h above %.2f °C).",
            CureJson.span(cure.endMinutes()),
            cure.equivalentHours(),
            cure.degreeHours(),
            cure.datumC()));
    words.addAll(CureJson.table(cure.stages(), CureJson.NOT_YET));
    warnings.forEach(warning -> words.add("Note: " + warning.reason()));
    words.add(
        "Confirm demold by hand: no fingernail mark on the flange, a hard sound when tapped, no"
            + " give; Barcol if you have a tester.");
    return new Answer(json, words, false);
  }
}
