package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.limits.Warning;
import org.layroom.predictor.verdict.Conditions;
import org.layroom.predictor.verdict.Finding;
import org.layroom.predictor.verdict.MixCheck;
import org.layroom.predictor.verdict.Reason;
import org.layroom.predictor.verdict.Sentence;
import org.layroom.predictor.verdict.Verdict;

/** The mix check: warm, dry, aired enough? */
public final class CheckAnswer {
  private CheckAnswer() {}

  /** The mix check for a material under some conditions. */
  public static Answer of(Optional<MaterialShelf.Entry> material, Conditions conditions) {
    Verdict verdict = MixCheck.check(material.map(MaterialShelf.Entry::material), conditions);
    ObjectNode json = json(verdict);
    material.ifPresent(
        entry -> json.put("material", entry.material().id()).put("materialName", entry.label()));
    Answer.outcome(json, List.of(), warnings(verdict));
    return new Answer(json, words(material, verdict), false);
  }

  private static List<Warning> warnings(Verdict verdict) {
    return verdict.reasons().stream()
        .filter(reason -> reason.state() == Finding.WARN)
        .map(reason -> new Warning(reason.about(), "", "", reason.words()))
        .toList();
  }

  private static ObjectNode json(Verdict verdict) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("verdict", verdict.verdict().id()).put("words", verdict.verdict().words());
    verdict.dewPointC().ifPresent(value -> json.put("dewPointC", value));
    verdict.dewPointMarginK().ifPresent(value -> json.put("dewPointMarginK", value));
    ArrayNode sentences = json.putArray("sentences");
    for (Sentence sentence : verdict.sentences()) {
      sentences
          .addObject()
          .put("about", sentence.about())
          .put("state", sentence.state().id())
          .put("head", head(sentence.words()))
          .put("detail", detail(sentence.words()));
    }
    ArrayNode reasons = json.putArray("reasons");
    for (Reason reason : verdict.reasons()) {
      reasons
          .addObject()
          .put("about", reason.about())
          .put("state", reason.state().id())
          .put("words", reason.words());
    }
    return json;
  }

  /** The big words of a sentence: what stands before its first colon. */
  private static String head(String words) {
    int colon = words.indexOf(": ");
    return colon < 0 ? words : words.substring(0, colon);
  }

  private static String detail(String words) {
    int colon = words.indexOf(": ");
    if (colon < 0) {
      return "";
    }
    String rest = words.substring(colon + 2);
    return rest.substring(0, 1).toUpperCase(java.util.Locale.ROOT) + rest.substring(1);
  }

  private static List<String> words(Optional<MaterialShelf.Entry> material, Verdict verdict) {
    List<String> lines = new ArrayList<>();
    String words = verdict.verdict().words();
    lines.add(
        words.substring(0, 1).toUpperCase(java.util.Locale.ROOT)
            + words.substring(1)
            + material.map(entry -> ": " + entry.label()).orElse(""));
    verdict.reasons().forEach(reason -> lines.add("  " + reason.words()));
    lines.add(
        "Layroom only advises. The safety data sheet and local rules come first. Put on goggles"
            + " before you open the catalyst.");
    return lines;
  }
}
