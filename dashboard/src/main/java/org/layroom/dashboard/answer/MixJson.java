package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.cure.Stage;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.mix.Cup;
import org.layroom.predictor.mix.DemoldOutlook;
import org.layroom.predictor.mix.Dose;
import org.layroom.predictor.mix.HeatOutlook;
import org.layroom.predictor.mix.LayupQuantities;
import org.layroom.predictor.mix.Leftover;
import org.layroom.predictor.mix.MixAnswer;
import org.layroom.predictor.mix.MixQuestion;

/** The mix: dose, cups, working time, stages, as JSON and in words. */
public final class MixJson {
  private static final String CAUTION =
      "Put on goggles before you open the catalyst; MEKP in the eye can blind. Leftover mix"
          + " heats itself: put it in a shallow tray outdoors, never in a bin. The safety data"
          + " sheet and local rules come first.";

  private static final String LOAD_RESTS_ON =
      "published times for any can, 2 to 21 days; hours below 20 °C count little";

  private static final String PEAK_RESTS_ON =
      "a model of heat and cure in two lumps, checked against published cups; not measured on your"
          + " part";

  private MixJson() {}

  /** The answer to typed fields: refused ones are named, otherwise the predictor answers. */
  public static Answer of(MaterialShelf.Entry material, MixFields.Parsed parsed) {
    if (parsed.question().isEmpty()) {
      return Answer.refusal(parsed.refused());
    }
    MixQuestion question = parsed.question().get();
    MixAnswer mix = question.answer();
    return of(material, mix, parsed.layup(), CalibrationJson.of(question, mix));
  }

  private static Answer of(
      MaterialShelf.Entry material,
      MixAnswer mix,
      Optional<LayupQuantities> layup,
      CalibrationJson learning) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("material", material.material().id()).put("materialName", material.label());
    mix.dose().ifPresent(dose -> dose(json, dose));
    mix.gelMinutes().ifPresent(band -> CureJson.band(json, "gelMinutes", band));
    mix.workingMinutes().ifPresent(minutes -> json.put("workingMinutes", minutes));
    cups(json, mix.cups());
    CureJson.stages(json, mix.stages());
    mix.demold().ifPresent(demold -> demold(json, demold));
    mix.heat().ifPresent(heat -> heat(json, heat));
    mix.leftover().ifPresent(leftover -> leftover(json, leftover));
    json.put("confidence", mix.confidence());
    learning.addTo(json);
    layup.ifPresent(quantities -> layup(json, quantities));
    List<Warning> warnings = new ArrayList<>(mix.warnings());
    layup.ifPresent(quantities -> warnings.addAll(quantities.warnings()));
    Answer.outcome(json, mix.refused(), warnings);
    List<String> words = words(material, mix, layup, warnings, learning);
    ArrayNode lines = json.putArray("lines");
    words.forEach(lines::add);
    return new Answer(json, words, !mix.refused().isEmpty());
  }

  private static void dose(ObjectNode json, Dose dose) {
    json.put("doseByWeightPct", dose.doseByWeightPct());
    put(json, "catalystMl", dose.catalystMl());
    json.put("catalystGrams", dose.catalystGrams());
    json.put("materialGrams", dose.materialGrams());
    json.put("materialMl", dose.materialMl());
    put(json, "mlPer100Ml", dose.mlPer100Ml());
    put(json, "mlPerKg", dose.mlPerKg());
    json.put("unroundedDoseByWeightPct", dose.unroundedPct());
    json.put("roundingMinutes", dose.roundingMinutes());
  }

  private static void put(ObjectNode json, String name, OptionalDouble value) {
    if (value.isPresent()) {
      json.put(name, value.getAsDouble());
    } else {
      json.putNull(name);
    }
  }

  private static void cups(ObjectNode json, List<Cup> cups) {
    ArrayNode list = json.putArray("cups");
    for (Cup cup : cups) {
      ObjectNode node = list.addObject();
      node.put("number", cup.number());
      node.put("materialGrams", cup.materialGrams()).put("materialMl", cup.materialMl());
      node.put("catalystGrams", cup.catalystGrams());
      put(node, "catalystMl", cup.catalystMl());
      node.put("mixAtMinutes", cup.mixAtMinutes()).put("useUpByMinutes", cup.useUpByMinutes());
    }
  }

  private static void demold(ObjectNode json, DemoldOutlook demold) {
    ObjectNode node = json.putObject("demold");
    node.putObject("hoursAt20C")
        .put("p10", demold.belief().earliestHours())
        .put("p50", demold.belief().medianHours())
        .put("p90", demold.belief().latestHours());
    node.put("restsOn", demold.restsOn()).put("outcomes", demold.outcomes());
    node.put("nailTestHoursAt20C", demold.nailTest().hours());
    ArrayNode words = node.putArray("words");
    demold.words().forEach(words::add);
    json.putObject("full-cure").put("restsOn", LOAD_RESTS_ON);
  }

  private static void heat(ObjectNode json, HeatOutlook heat) {
    CureJson.band(json, "peakC", heat.peakC());
    json.put("peakMinutes", heat.peakMinutes()).put("thicknessMm", heat.thickestMm());
    json.put("peakRestsOn", PEAK_RESTS_ON);
  }

  private static void leftover(ObjectNode json, Leftover leftover) {
    ObjectNode node = json.putObject("leftover");
    CureJson.band(node, "fromMinutes", leftover.fromMinutes());
    CureJson.band(node, "untilMinutes", leftover.untilMinutes());
    node.put("peakC", leftover.peakC()).put("words", leftover.words());
  }

  private static void layup(ObjectNode json, LayupQuantities quantities) {
    json.putObject("layup")
        .put("gelCoatGrams", quantities.gelCoatGrams())
        .put("matGrams", quantities.matGrams())
        .put("resinGrams", quantities.resinGrams())
        .put("thicknessMm", quantities.thicknessMm())
        .put("passes", quantities.passes());
  }

  private static List<String> words(
      MaterialShelf.Entry material,
      MixAnswer mix,
      Optional<LayupQuantities> layup,
      List<Warning> warnings,
      CalibrationJson learning) {
    List<String> lines = new ArrayList<>();
    lines.add(material.label());
    mix.refused().forEach(refusal -> lines.add("No dose: " + refusal.reason()));
    mix.dose().ifPresent(dose -> lines.addAll(doseWords(dose)));
    mix.workingMinutes()
        .ifPresent(
            minutes ->
                lines.add(
                    "Working time: about "
                        + CureJson.span(minutes)
                        + mix.gelMinutes()
                            .map(
                                gel ->
                                    ", gel in the cup after "
                                        + CureJson.span(gel.p50())
                                        + " (earliest "
                                        + CureJson.span(gel.p10())
                                        + ", latest "
                                        + CureJson.span(gel.p90())
                                        + ")")
                            .orElse("")));
    if (mix.workingMinutes().isEmpty()) {
      mix.gelMinutes()
          .ifPresent(
              gel ->
                  lines.add(
                      "Gel in the cup after "
                          + CureJson.span(gel.p50())
                          + " (earliest "
                          + CureJson.span(gel.p10())
                          + ", latest "
                          + CureJson.span(gel.p90())
                          + ")"));
    }
    if (mix.cups().size() > 1) {
      mix.cups().forEach(cup -> lines.add("  " + cupWords(cup)));
    }
    layup.ifPresent(quantities -> lines.add(layupWords(quantities)));
    warnings.forEach(warning -> lines.add("Note: " + warning.reason()));
    if (!mix.stages().isEmpty()) {
      lines.addAll(CureJson.table(mix.stages(), CureJson.ONCE_WARMED));
      mix.heat().ifPresent(heat -> lines.add(heat.words()));
      mix.leftover().ifPresent(leftover -> lines.add(leftover.words()));
      mix.stages().stream()
          .filter(stage -> stage.stage() == Stage.DEMOLD || stage.stage() == Stage.FULL_HARDNESS)
          .forEach(stage -> lines.add(stage.words()));
      mix.demold().ifPresent(demold -> lines.add("Demold rests on " + demold.restsOn() + "."));
      mix.demold().ifPresent(demold -> lines.addAll(demold.words()));
      lines.add("Times are a forecast: the finger test decides.");
    }
    lines.add("How sure: " + mix.confidence());
    lines.addAll(learning.words());
    lines.add(CAUTION);
    return lines;
  }

  private static List<String> doseWords(Dose dose) {
    List<String> lines = new ArrayList<>();
    String catalyst =
        dose.catalystMl().isPresent()
            ? String.format(
                Locale.ROOT,
                "%.1f ml (%.1f g)",
                dose.catalystMl().getAsDouble(),
                dose.catalystGrams())
            : String.format(
                Locale.ROOT, "%.1f g (weigh it: the density is not known)", dose.catalystGrams());
    lines.add(
        String.format(
            Locale.ROOT,
            "Catalyst: %s for %.0f g (%.0f ml), that is %.2f %% by weight",
            catalyst,
            dose.materialGrams(),
            dose.materialMl(),
            dose.doseByWeightPct()));
    if (dose.mlPer100Ml().isPresent() && dose.mlPerKg().isPresent()) {
      lines.add(
          String.format(
              Locale.ROOT,
              "  or %.2f ml per 100 ml, %.1f ml per kg; rounding to the syringe shifts gel time by"
                  + " %+.1f min",
              dose.mlPer100Ml().getAsDouble(),
              dose.mlPerKg().getAsDouble(),
              dose.roundingMinutes()));
    }
    return lines;
  }

  private static String cupWords(Cup cup) {
    String catalyst =
        cup.catalystMl().isPresent()
            ? String.format(Locale.ROOT, "%.1f ml", cup.catalystMl().getAsDouble())
            : String.format(Locale.ROOT, "%.1f g", cup.catalystGrams());
    return String.format(
        Locale.ROOT,
        "cup %d: %.0f g (%.0f ml) with %s, mix at %s, use it by %s",
        cup.number(),
        cup.materialGrams(),
        cup.materialMl(),
        catalyst,
        cup.mixAtMinutes() == 0 ? "the start" : CureJson.span(cup.mixAtMinutes()),
        CureJson.span(cup.useUpByMinutes()));
  }

  private static String layupWords(LayupQuantities quantities) {
    return String.format(
        Locale.ROOT,
        "For the area, including waste: gel coat %.0f g, mat %.0f g, resin %.0f g; about %.1f"
            + " mm, %d"
            + " pass%s",
        quantities.gelCoatGrams(),
        quantities.matGrams(),
        quantities.resinGrams(),
        quantities.thicknessMm(),
        quantities.passes(),
        quantities.passes() == 1 ? "" : "es");
  }
}
