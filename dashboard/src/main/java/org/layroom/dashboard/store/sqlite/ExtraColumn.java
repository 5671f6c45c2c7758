package org.layroom.dashboard.store.sqlite;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.layroom.dashboard.store.StoreFailure;
import org.layroom.device.telemetry.Quality;
import org.layroom.device.telemetry.Reading;

/**
 * The {@code extra} column of a reading row: whatever has no column of its own, as one JSON object
 * by name. {@code v} is a good value, {@code d} a doubtful one, so that no query takes a doubtful
 * value for a good one by mistake.
 */
final class ExtraColumn {
  private static final JsonMapper JSON = new JsonMapper();

  private final ObjectNode node;

  private ExtraColumn(ObjectNode node) {
    this.node = node;
  }

  static ExtraColumn empty() {
    return new ExtraColumn(JsonNodeFactory.instance.objectNode());
  }

  static ExtraColumn parse(Optional<String> column) {
    try {
      return column.isEmpty() ? empty() : new ExtraColumn((ObjectNode) JSON.readTree(column.get()));
    } catch (JsonProcessingException e) {
      throw new StoreFailure("A row of the store is damaged: " + column.get(), e);
    }
  }

  boolean has(String name) {
    return node.has(name);
  }

  void add(Reading reading) {
    ObjectNode one = node.putObject(reading.name());
    reading.value().ifPresent(value -> one.put(reading.quality().isGood() ? "v" : "d", value));
    reading.text().ifPresent(text -> one.put("s", text));
    if (!reading.unit().isEmpty()) {
      one.put("u", reading.unit());
    }
    if (!reading.quality().isGood()) {
      one.put("q", reading.quality().words());
    }
  }

  List<Reading> readings() {
    List<Reading> readings = new ArrayList<>();
    node.properties().forEach(entry -> readings.add(reading(entry.getKey(), entry.getValue())));
    return readings;
  }

  private static Reading reading(String name, JsonNode one) {
    JsonNode value = one.has("v") ? one.get("v") : one.get("d");
    return new Reading(
        name,
        one.path("u").asText(),
        value == null ? OptionalDouble.empty() : OptionalDouble.of(value.doubleValue()),
        Optional.ofNullable(one.get("s")).map(JsonNode::asText),
        one.has("q") ? Quality.parse(one.get("q").asText()) : Quality.good());
  }

  Optional<String> column() {
    return node.isEmpty() ? Optional.empty() : Optional.of(node.toString());
  }
}
