package org.layroom.dashboard.material;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.DoubleConsumer;
import org.layroom.device.telemetry.StrictJson;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.layroom.predictor.material.MaterialDraft;
import org.layroom.predictor.material.MaterialProblem;

/** Reads one material file (JSON, at most 64 KiB) and reports everything that is wrong at once. */
public final class MaterialFile {
  private static final int LARGEST_BYTES = 64 * 1024;

  private static final JsonMapper JSON = StrictJson.mapper(8);

  private static final Set<String> FIELDS =
      new TreeSet<>(
          Set.of(
              "id",
              "name",
              "kind",
              "system",
              "gel",
              "gelTable",
              "activationEnergyKJPerMol",
              "doseExponent",
              "doseByWeightPct",
              "temperatureC",
              "densityKgPerL",
              "catalystDensityKgPerL",
              "demoldHoursAt20C",
              "structural",
              "waxed",
              "styrenePct",
              "peakToGel"));

  private final JsonNode file;
  private final List<MaterialProblem> problems = new ArrayList<>();
  private final MaterialDraft draft = new MaterialDraft();

  private MaterialFile(JsonNode file) {
    this.file = file;
  }

  /**
   * Reads a file; of one that is too large no more than what shows it.
   *
   * @throws InvalidMaterial with everything that is wrong
   */
  public static Material read(Path file) throws InvalidMaterial, IOException {
    try (InputStream in = Files.newInputStream(file)) {
      return read(in.readNBytes(LARGEST_BYTES + 1));
    }
  }

  /**
   * The material of a file's bytes.
   *
   * @throws InvalidMaterial with everything that is wrong, each with the field and what to change
   */
  public static Material read(byte[] bytes) throws InvalidMaterial {
    if (bytes.length > LARGEST_BYTES) {
      throw refused("file", "over 65536 bytes", "at most 65536 bytes", "The file is too large.");
    }
    JsonNode node;
    try {
      node = JSON.readTree(bytes);
    } catch (IOException e) {
      String message = String.valueOf(e.getMessage()).lines().findFirst().orElse("");
      throw refused("file", "no JSON", "one JSON object", "The file is not JSON: " + message);
    }
    if (node == null || !node.isObject()) {
      throw refused(
          "file", "not an object", "one JSON object", "The file must hold one JSON object.");
    }
    return new MaterialFile(node).material();
  }

  private static InvalidMaterial refused(String field, String value, String limit, String reason) {
    return new InvalidMaterial(List.of(new MaterialProblem(field, value, limit, reason)));
  }

  private Material material() throws InvalidMaterial {
    unknownFields();
    text("id", draft::id);
    text("name", draft::name);
    text("kind", draft::kind);
    text("system", draft::system);
    gel();
    gelTable();
    number(file, "", "activationEnergyKJPerMol", draft::activationEnergyKJPerMol);
    number(file, "", "doseExponent", draft::doseExponent);
    range("doseByWeightPct", draft::doseByWeightPct);
    range("temperatureC", draft::temperatureC);
    number(file, "", "densityKgPerL", draft::densityKgPerL);
    number(file, "", "catalystDensityKgPerL", draft::catalystDensityKgPerL);
    number(file, "", "demoldHoursAt20C", draft::demoldHoursAt20C);
    number(file, "", "styrenePct", draft::styrenePct);
    number(file, "", "peakToGel", draft::peakToGel);
    flag("structural", draft::structural);
    flag("waxed", draft::waxed);
    try {
      Material material = draft.build();
      if (problems.isEmpty()) {
        return material;
      }
    } catch (InvalidMaterial e) {
      Set<String> named = new TreeSet<>();
      problems.forEach(problem -> named.add(problem.field()));
      e.problems().stream()
          .filter(problem -> !named.contains(problem.field()))
          .forEach(problems::add);
    }
    throw new InvalidMaterial(problems);
  }

  private void unknownFields() {
    Iterator<String> names = file.fieldNames();
    while (names.hasNext()) {
      String name = names.next();
      if (!FIELDS.contains(name)) {
        String shown = name.isBlank() ? "\"" + name + "\"" : name;
        problem(shown, "present", "one of " + String.join(", ", FIELDS), "unknown field");
      }
    }
  }

  private void problem(String field, String value, String limit, String what) {
    problems.add(
        new MaterialProblem(field, value, limit, field + ": " + what + "; enter " + limit + "."));
  }

  private interface Text {
    void accept(String value);
  }

  private void text(String field, Text into) {
    JsonNode node = file.get(field);
    if (node == null) {
      return;
    }
    if (node.isTextual()) {
      into.accept(node.textValue());
    } else {
      problem(field, node.toString(), "text in quotes", "not text");
    }
  }

  private interface Flag {
    void accept(boolean value);
  }

  private void flag(String field, Flag into) {
    JsonNode node = file.get(field);
    if (node == null) {
      return;
    }
    if (node.isBoolean()) {
      into.accept(node.booleanValue());
    } else {
      problem(field, node.toString(), "true or false", "neither true nor false");
    }
  }

  private boolean number(JsonNode parent, String prefix, String field, DoubleConsumer into) {
    JsonNode node = parent.get(field);
    if (node == null) {
      return false;
    }
    if (node.isNumber() && Double.isFinite(node.doubleValue())) {
      into.accept(node.doubleValue());
      return true;
    }
    problem(prefix + field, node.toString(), "a number without quotes or unit", "not a number");
    return false;
  }

  private boolean numbers(JsonNode parent, String prefix, double[] into, String... fields) {
    boolean complete = true;
    for (int i = 0; i < fields.length; i++) {
      int place = i;
      if (!parent.has(fields[i])) {
        problem(prefix + fields[i], "missing", "a number", "missing");
        complete = false;
      } else if (!number(parent, prefix, fields[i], value -> into[place] = value)) {
        complete = false;
      }
    }
    return complete;
  }

  private void gel() {
    JsonNode node = file.get("gel");
    if (node == null) {
      return;
    }
    double[] values = new double[3];
    if (!node.isObject()) {
      problem("gel", node.toString(), "{minutes, temperatureC, doseByWeightPct}", "not an object");
    } else if (numbers(node, "gel.", values, "minutes", "temperatureC", "doseByWeightPct")) {
      draft.gel(values[0], values[1], values[2]);
    }
  }

  private void gelTable() {
    JsonNode table = file.get("gelTable");
    if (table == null) {
      return;
    }
    if (!table.isArray()) {
      problem("gelTable", table.toString(), "a list of rows", "not a list");
      return;
    }
    for (int i = 0; i < table.size(); i++) {
      String row = "gelTable[" + i + "]";
      double[] values = new double[3];
      if (!table.get(i).isObject()) {
        problem(
            row,
            table.get(i).toString(),
            "{temperatureC, doseByWeightPct, gelMinutes}",
            "not an object");
      } else if (numbers(
          table.get(i), row + ".", values, "temperatureC", "doseByWeightPct", "gelMinutes")) {
        draft.gelRow(values[0], values[1], values[2]);
      }
    }
  }

  private interface Range {
    void accept(double min, double max);
  }

  private void range(String field, Range into) {
    JsonNode node = file.get(field);
    if (node == null) {
      return;
    }
    double[] values = new double[2];
    if (!node.isObject()) {
      problem(field, node.toString(), "{min, max}", "not an object");
    } else if (numbers(node, field + ".", values, "min", "max")) {
      into.accept(values[0], values[1]);
    }
  }
}
