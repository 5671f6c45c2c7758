package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Pattern;

/** Carries the base fields from record to record (RFC 8428 section 4.6, resolved records). */
final class SenmlResolver {
  /** Times beyond the year 9999 are refused. */
  private static final double LAST_TIME = 253_402_300_799d;

  /** RFC 8428 section 4.4: the version of this pack format. */
  private static final int SENML_VERSION = 10;

  private static final Pattern NAME = Pattern.compile("[A-Za-z0-9][A-Za-z0-9:./_-]*");

  private final Channel channel;
  private String baseName = "";
  private double baseTime;
  private String baseUnit = "";
  private double baseValue;

  SenmlResolver(Channel channel) {
    this.channel = channel;
  }

  /** The next record, resolved; empty for one that holds base fields or a sum alone. */
  Optional<SenmlRecord> next(JsonNode node) throws MalformedMessage {
    if (!node.isObject()) {
      throw new MalformedMessage("a SenML record is a JSON object");
    }
    takeBases(node);
    boolean hasValue = node.has("v") || node.has("vs") || node.has("vb") || node.has("vd");
    if (!hasValue) {
      if (node.has("n") && !node.has("s")) {
        throw new MalformedMessage("record without a value: " + name(node));
      }
      return Optional.empty();
    }
    double time = baseTime + number(node, "t", 0);
    if (!Double.isFinite(time) || time > LAST_TIME) {
      throw new MalformedMessage("time " + time + " s is out of range");
    }
    OptionalDouble value = OptionalDouble.empty();
    Optional<String> text = Optional.empty();
    if (node.has("v")) {
      double sum = baseValue + number(node, "v", 0);
      value = OptionalDouble.of(sum);
    } else if (node.has("vs")) {
      text = Optional.of(string(node, "vs", ""));
    } else if (node.has("vb")) {
      if (!node.get("vb").isBoolean()) {
        throw new MalformedMessage("field vb must be true or false");
      }
      text = Optional.of(node.get("vb").asText());
    } else {
      text = Optional.of(string(node, "vd", ""));
    }
    return Optional.of(new SenmlRecord(name(node), time, string(node, "u", baseUnit), value, text));
  }

  private void takeBases(JsonNode node) throws MalformedMessage {
    var fields = node.fieldNames();
    while (fields.hasNext()) {
      String field = fields.next();
      if (field.endsWith("_")) {
        throw new MalformedMessage("field " + field + " must be understood and is not");
      }
    }
    if (number(node, "bver", SENML_VERSION) > SENML_VERSION) {
      throw new MalformedMessage("SenML version " + node.get("bver") + " is too new");
    }
    baseName = string(node, "bn", baseName);
    baseTime = number(node, "bt", baseTime);
    baseUnit = string(node, "bu", baseUnit);
    baseValue = number(node, "bv", baseValue);
  }

  private String name(JsonNode node) throws MalformedMessage {
    String full = baseName + string(node, "n", "");
    if (!NAME.matcher(full).matches()) {
      throw new MalformedMessage("name \"" + full + "\" has characters SenML does not allow");
    }
    if (!full.startsWith(channel.baseName())) {
      throw new MalformedMessage(
          "name \"" + full + "\" does not belong to the topic's device " + channel.baseName());
    }
    String name = full.substring(channel.baseName().length());
    if (name.isEmpty() || name.length() > 64) {
      throw new MalformedMessage("name \"" + full + "\" must have 1 to 64 characters of its own");
    }
    return name;
  }

  private static double number(JsonNode node, String field, double otherwise)
      throws MalformedMessage {
    JsonNode value = node.get(field);
    if (value == null) {
      return otherwise;
    }
    if (!value.isNumber() || !Double.isFinite(value.doubleValue())) {
      throw new MalformedMessage("field " + field + " must be a finite number");
    }
    return value.doubleValue();
  }

  private static String string(JsonNode node, String field, String otherwise)
      throws MalformedMessage {
    JsonNode value = node.get(field);
    if (value == null) {
      return otherwise;
    }
    if (!value.isTextual()) {
      throw new MalformedMessage("field " + field + " must be text");
    }
    return value.textValue();
  }
}
