package org.layroom.dashboard.answer;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import org.layroom.predictor.limits.Refusal;

/** Fields as they were typed, read one by one; what cannot be read is gathered as a refusal. */
final class TypedFields {
  private final Map<String, List<String>> fields;
  private final List<Refusal> refusals = new ArrayList<>();

  TypedFields(Map<String, List<String>> fields) {
    this.fields = new LinkedHashMap<>(fields);
  }

  boolean has(String name) {
    return fields.containsKey(name);
  }

  /** All values of a field, for one that may be given several times. */
  List<String> values(String name) {
    return fields.getOrDefault(name, List.of());
  }

  /** The value of a field; empty when it was not given, and when it was refused. */
  <T> Optional<T> field(String name, Function<String, T> parsing) {
    List<String> values = values(name);
    if (values.size() > 1) {
      refuse(name, String.join(", ", values), "Enter " + name + " only once.");
      return Optional.empty();
    }
    return values.stream().findFirst().flatMap(text -> parsed(name, text, parsing));
  }

  /** The value of a field that must be there, unless something else stands in for it. */
  <T> Optional<T> needed(
      String name, Function<String, T> parsing, Optional<T> otherwise, String howToSayIt) {
    if (!has(name) && otherwise.isEmpty()) {
      refuse(name, "missing", howToSayIt);
    }
    return has(name) ? field(name, parsing) : otherwise;
  }

  /** What a function makes of a text; its complaint becomes a refusal of this field. */
  <T> Optional<T> parsed(String name, String text, Function<String, T> parsing) {
    try {
      return Optional.of(parsing.apply(text));
    } catch (IllegalArgumentException e) {
      refuse(name, text, name + ": " + e.getMessage());
      return Optional.empty();
    }
  }

  void refuse(String field, String value, String reason) {
    refuse(new Refusal(field, value, "", reason));
  }

  void refuse(Refusal refusal) {
    refusals.add(refusal);
  }

  List<Refusal> refusals() {
    return List.copyOf(refusals);
  }
}
