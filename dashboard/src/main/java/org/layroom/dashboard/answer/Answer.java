package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Warning;

/**
 * An answer in both of its forms.
 *
 * @param json for tools: always with {@code refused} and {@code warnings}; numbers not rounded
 * @param words for people, line by line
 * @param refused whether no number was possible
 */
public record Answer(ObjectNode json, List<String> words, boolean refused) {
  public Answer {
    words = List.copyOf(words);
  }

  /** No answer, for these reasons. */
  public static Answer refusal(List<Refusal> refusals) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    outcome(json, refusals, List.of());
    return new Answer(json, refusals.stream().map(Refusal::reason).toList(), true);
  }

  /** Adds the two fields that every answer has. */
  public static void outcome(ObjectNode json, List<Refusal> refusals, List<Warning> warnings) {
    ArrayNode refused = json.putArray("refused");
    refusals.forEach(r -> add(refused, r.field(), r.value(), r.limit(), r.reason()));
    ArrayNode warned = json.putArray("warnings");
    warnings.forEach(w -> add(warned, w.field(), w.value(), w.limit(), w.reason()));
  }

  private static void add(ArrayNode list, String field, String value, String limit, String reason) {
    list.addObject()
        .put("field", field)
        .put("value", value)
        .put("limit", limit)
        .put("reason", reason);
  }
}
