package org.layroom.dashboard.job;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import org.layroom.predictor.limits.Refusal;

/** The fields of one JSON object, read with their limits; what is wrong is gathered, not thrown. */
final class JsonFields {
  private static final int LONGEST_LIST = 60;

  private final JsonNode node;
  private final String path;
  private final List<Refusal> refused;

  JsonFields(JsonNode node, String path, List<Refusal> refused) {
    this.node = node;
    this.path = path;
    this.refused = refused;
  }

  private String name(String field) {
    return path + (field.isBlank() ? "(a field without a name)" : field);
  }

  void refuse(String field, String value, String reason) {
    refused.add(new Refusal(name(field), value, "", name(field) + ": " + reason));
  }

  /** Refuses what is not named here: a misspelled field is not dropped in silence. */
  void only(Set<String> known) {
    Iterator<String> names = node.fieldNames();
    while (names.hasNext()) {
      String field = names.next();
      if (!known.contains(field)) {
        refuse(field, node.path(field).toString(), "unknown field");
      }
    }
  }

  boolean has(String field) {
    return !node.path(field).isMissingNode() && !node.path(field).isNull();
  }

  /** Text that must be there; empty text when it is refused. */
  String text(String field, int longest) {
    if (!has(field)) {
      refuse(field, "missing", "required");
      return "";
    }
    return optionalText(field, longest).orElse("");
  }

  Optional<String> optionalText(String field, int longest) {
    if (!has(field)) {
      return Optional.empty();
    }
    JsonNode value = node.get(field);
    if (!value.isTextual() || value.textValue().isBlank()) {
      refuse(field, value.toString(), "must not be empty");
      return Optional.empty();
    }
    String text = value.textValue().strip();
    if (text.length() > longest || text.chars().anyMatch(JsonFields::unprintable)) {
      refuse(field, text.length() + " characters", "must be at most " + longest + " characters");
      return Optional.empty();
    }
    return Optional.of(text);
  }

  private static boolean unprintable(int character) {
    return Character.isISOControl(character) && character != '\n' && character != '\t';
  }

  <T> Optional<T> oneOf(String field, Function<String, Optional<T>> known, String all) {
    String text = text(field, 40);
    Optional<T> found = known.apply(text);
    if (found.isEmpty() && !text.isEmpty()) {
      refuse(field, text, "must be one of " + all);
    }
    return found;
  }

  double number(String field, double min, double max, String unit) {
    if (!has(field)) {
      refuse(field, "missing", "required");
      return min;
    }
    return optionalNumber(field, min, max, unit).orElse(min);
  }

  OptionalDouble optionalNumber(String field, double min, double max, String unit) {
    return has(field) ? inside(field, node.get(field), min, max, unit) : OptionalDouble.empty();
  }

  private OptionalDouble inside(String field, JsonNode value, double min, double max, String unit) {
    if (value.isNumber() && value.doubleValue() >= min && value.doubleValue() <= max) {
      return OptionalDouble.of(value.doubleValue());
    }
    refuse(
        field,
        value.toString(),
        ("must be a number from " + plain(min) + " to " + plain(max) + " " + unit).strip());
    return OptionalDouble.empty();
  }

  private static String plain(double value) {
    return value == Math.rint(value) ? Long.toString((long) value) : Double.toString(value);
  }

  boolean flag(String field) {
    if (!has(field)) {
      return false;
    }
    JsonNode value = node.get(field);
    if (!value.isBoolean()) {
      refuse(field, value.toString(), "must be true or false");
    }
    return value.asBoolean();
  }

  List<Double> numbers(String field, double min, double max, String unit) {
    List<Double> numbers = new ArrayList<>();
    for (JsonNode value : list(field)) {
      inside(field, value, min, max, unit).ifPresent(numbers::add);
    }
    return numbers;
  }

  List<String> texts(String field, int longest) {
    List<String> texts = new ArrayList<>();
    for (JsonNode value : list(field)) {
      if (value.isTextual()
          && !value.textValue().isBlank()
          && value.textValue().length() <= longest) {
        texts.add(value.textValue().strip());
      } else {
        refuse(field, value.toString(), "each text can have at most " + longest + " characters");
      }
    }
    return texts;
  }

  List<JsonFields> objects(String field) {
    List<JsonFields> objects = new ArrayList<>();
    int i = 0;
    for (JsonNode value : list(field)) {
      String name = field + "[" + i++ + "]";
      if (value.isObject()) {
        objects.add(new JsonFields(value, name(name) + ".", refused));
      } else {
        refuse(name, value.toString(), "must be an object");
      }
    }
    return objects;
  }

  Optional<JsonFields> object(String field) {
    if (!has(field) || !node.get(field).isObject()) {
      refuse(field, has(field) ? node.get(field).toString() : "missing", "must be an object");
      return Optional.empty();
    }
    return Optional.of(new JsonFields(node.get(field), name(field) + ".", refused));
  }

  private Iterable<JsonNode> list(String field) {
    if (!has(field)) {
      return List.of();
    }
    JsonNode value = node.get(field);
    if (!value.isArray() || value.size() > LONGEST_LIST) {
      refuse(field, value.getNodeType().toString(), "must be a list of at most " + LONGEST_LIST);
      return List.of();
    }
    return value;
  }
}
