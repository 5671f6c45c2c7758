package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.layroom.predictor.emission.Caution;
import org.layroom.predictor.emission.LayupAir;
import org.layroom.predictor.emission.PredictedAir;
import org.layroom.predictor.emission.Respirator;
import org.layroom.predictor.exposure.ExposureLimit;
import org.layroom.predictor.exposure.Styrene;
import org.layroom.predictor.limits.Warning;

/** The air before a layup is started, as JSON and in words. A high result is never refused. */
public final class FumesAnswer {
  private static final double PERCENT = 100;

  private FumesAnswer() {}

  /** The answer to typed fields, with what is known of room and can. */
  public static Answer of(Map<String, List<String>> fields, FumesFields.Known known) {
    FumesFields.Parsed parsed = FumesFields.parse(fields, known);
    if (parsed.question().isEmpty()) {
      return Answer.refusal(parsed.refused());
    }
    FumesFields.Question question = parsed.question().get();
    LayupAir air =
        LayupAir.predict(
            question.room(), question.layup(), question.limit(), question.nearM3PerMin());
    List<String> words = words(question, air);
    ObjectNode json = json(question, air);
    Answer.outcome(json, List.of(), warnings(air));
    ArrayNode lines = json.putArray("lines");
    words.forEach(lines::add);
    return new Answer(json, words, false);
  }

  private static List<Warning> warnings(LayupAir air) {
    return air.cautions().stream().map(words -> new Warning("air", "", "", words)).toList();
  }

  private static ObjectNode json(FumesFields.Question question, LayupAir air) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("emittedGrams", air.emittedGrams());
    figures(json, air.room());
    figures(json.putObject("breathingZone"), air.breathingZone());
    json.put("airNeededM3PerH", air.airNeededM3PerH());
    json.put("airNeededPerHour", air.airNeededPerHour());
    json.put("shareOfExplosiveLimit", air.shareOfExplosiveLimit());
    json.put("saturationPpm", air.saturationPpm());
    if (air.clearedAfter().isPresent()) {
      json.put("clearedAfterMinutes", minutes(air.clearedAfter().get()));
    } else {
      json.putNull("clearedAfterMinutes");
    }
    json.putObject("airChanges")
        .put("perHour", question.room().airChanges().perHour())
        .put("known", question.room().airChanges().words())
        .put("mixing", question.room().mixing());
    json.put("gelMinutes", minutes(question.layup().gelTime())).put("gelKnown", question.gel());
    limit(json.putObject("limit"), question.limit());
    respirator(json, air, question.limit());
    json.put("uncertainty", LayupAir.UNCERTAINTY);
    ArrayNode changes = json.putArray("changes");
    air.changes().forEach(changes::add);
    return json;
  }

  private static void respirator(ObjectNode json, LayupAir air, ExposureLimit limit) {
    Respirator mask = air.respirator();
    ObjectNode respirator = json.putObject("respirator");
    respirator.put("id", mask.id()).put("words", mask.instruction());
    if (!mask.doseBehindChoice()) {
      respirator.put("coversToPpm", mask.coversToPpm(limit));
    }
    json.put("doseBehindChoice", mask.doseBehindChoice());
    ArrayNode alternatives = json.putArray("alternatives");
    for (LayupAir.Alternative one : air.alternatives()) {
      alternatives
          .addObject()
          .put("id", one.id())
          .put("words", one.words())
          .put("resinGrams", 1000 * one.resinKg())
          .put("peakPpm", one.peakPpm())
          .put("respirator", one.respirator().words());
    }
    if (mask.doseBehindChoice() && air.suppliedAirOffered()) {
      alternatives
          .addObject()
          .put("id", Respirator.SUPPLIED_AIR.id())
          .put("words", "Work with supplied air, fitted and with somebody watching outside.")
          .put("peakPpm", air.breathingZone().peakPpm())
          .put("respirator", Respirator.SUPPLIED_AIR.words());
    }
  }

  private static void figures(ObjectNode json, PredictedAir figures) {
    json.put("peakPpm", figures.peakPpm());
    json.put("peakAfterMinutes", minutes(figures.peakAfter()));
    json.put("max15MinPpm", figures.max15MinPpm());
    json.put("twa8hPpm", figures.twa8hPpm());
  }

  static void limit(ObjectNode json, ExposureLimit limit) {
    json.put("id", limit.id()).put("setBy", limit.setBy());
    json.put("eightHourPpm", limit.eightHourPpm()).put("shortTermPpm", limit.shortTermPpm());
    limit.ceilingPpm().ifPresent(ppm -> json.put("ceilingPpm", ppm));
    json.put("note", limit.note()).put("source", limit.source());
    json.put("verified", limit.verified()).put("caution", ExposureLimit.CAUTION);
  }

  private static List<String> words(FumesFields.Question question, LayupAir air) {
    ExposureLimit limit = question.limit();
    List<String> lines = new ArrayList<>();
    lines.add(
        "About %s g of styrene evaporates until it has gelled, %s after the start (gel time %s)."
            .formatted(
                about(air.emittedGrams()), span(question.layup().gelTime()), question.gel()));
    lines.add("%-24s %16s %16s".formatted("", "in the room", "near the work"));
    lines.add(row("peak", air.room().peakPpm(), air.breathingZone().peakPpm(), "ppm"));
    lines.add(
        row(
            "worst 15 minutes",
            air.room().max15MinPpm(),
            air.breathingZone().max15MinPpm(),
            "ppm"));
    lines.add(
        row("eight-hour average", air.room().twa8hPpm(), air.breathingZone().twa8hPpm(), "ppm"));
    lines.add(
        row(
            "of the explosive limit",
            PERCENT * air.shareOfExplosiveLimit(),
            PERCENT * air.breathingZone().peakPpm() / Styrene.LOWER_EXPLOSIVE_LIMIT_PPM,
            "%"));
    lines.add(LayupAir.UNCERTAINTY);
    lines.add(
        "Air changes: %s per hour, %s; divided by %s for incomplete mixing."
            .formatted(
                about(question.room().airChanges().perHour()),
                question.room().airChanges().words(),
                about(question.room().mixing())));
    lines.add(
        "To hold the room at %s ppm while you work: %s m3/h of outdoor air, %s air changes per hour."
            .formatted(
                about(limit.eightHourPpm()),
                about(air.airNeededM3PerH()),
                about(air.airNeededPerHour())));
    lines.add(cleared(air, limit));
    lines.add(limitWords(limit));
    air.cautions().forEach(caution -> lines.add("Note: " + caution));
    air.changes().forEach(change -> lines.add("To change: " + change));
    air.alternatives()
        .forEach(
            one ->
                lines.add(
                    "Instead: %s About %s ppm near the work: %s."
                        .formatted(one.words(), about(one.peakPpm()), one.respirator().words())));
    Caution.about(Caution.Topic.AIR).forEach(caution -> lines.add("Caution: " + caution.words()));
    lines.add("Caution: " + Caution.VAPOR_BURNS.words());
    lines.add("Caution: " + Caution.LIGHT_HEAD.words());
    lines.add(Caution.DEFERENCE);
    return lines;
  }

  private static String cleared(LayupAir air, ExposureLimit limit) {
    if (air.clearedAfter().isEmpty()) {
      return "The room does not clear on its own: there is no ventilation.";
    }
    return air.clearedAfter().get().isZero()
        ? "The room is not expected to rise above " + about(limit.eightHourPpm()) + " ppm."
        : "Back below "
            + about(limit.eightHourPpm())
            + " ppm "
            + span(air.clearedAfter().get())
            + " after the start, once everything has gelled and the cans are shut.";
  }

  static String limitWords(ExposureLimit limit) {
    return "Limit: %s, eight-hour average %s ppm, short-term limit %s ppm (%s%s). %s"
        .formatted(
            limit.setBy(),
            about(limit.eightHourPpm()),
            about(limit.shortTermPpm()),
            limit.source(),
            limit.verified() ? "" : "; not verified by this project",
            ExposureLimit.CAUTION);
  }

  private static String row(String what, double room, double near, String unit) {
    return "  %-22s %16s %16s".formatted(what, about(room) + " " + unit, about(near) + " " + unit);
  }

  private static double minutes(Duration span) {
    return span.toMillis() / 60_000.0;
  }

  private static String span(Duration span) {
    return CureJson.span(minutes(span));
  }

  /** Two figures that count: more would pretend to be a measurement. */
  private static String about(double value) {
    if (value < 0.01) {
      return value == 0 ? "0" : "under 0.01";
    }
    double step = StrictMath.pow(10, Math.floor(StrictMath.log10(value)) - 1);
    double rounded = Math.rint(value / step) * step;
    String text = String.format(Locale.ROOT, step >= 1 ? "%.0f" : "%.3f", rounded);
    return text.contains(".") ? text.replaceAll("0+$", "").replaceAll("\\.$", "") : text;
  }
}
