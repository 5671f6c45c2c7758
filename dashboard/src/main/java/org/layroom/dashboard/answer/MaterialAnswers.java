package org.layroom.dashboard.answer;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import org.layroom.dashboard.material.GelTests;
import org.layroom.dashboard.material.MaterialJson;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;

/** The cans on the shelf: what they say, what their gel tests taught, and how they are changed. */
public final class MaterialAnswers {
  private final MaterialShelf shelf;
  private final GelTests tests;
  private final Supplier<Instant> now;
  private final Runnable changed;

  /**
   * Answers about cans.
   *
   * @param now the room's time
   * @param changed is run after each change, so that clocks are worked out anew
   */
  public MaterialAnswers(
      MaterialShelf shelf, GelTests tests, Supplier<Instant> now, Runnable changed) {
    this.shelf = shelf;
    this.tests = tests;
    this.now = now;
    this.changed = changed;
  }

  /** One can: its file, its tests, and how sure it is. */
  public ObjectNode can(MaterialShelf.Entry entry) {
    ObjectNode json = JsonNodeFactory.instance.objectNode();
    json.put("id", entry.material().id()).put("label", entry.label());
    json.put("typical", entry.preset());
    json.set("file", MaterialJson.write(entry.material()));
    ArrayNode list = json.putArray("tests");
    tests.tests(entry.material().id()).forEach(kept -> test(list.addObject(), kept));
    ArrayNode asked = json.putArray("asked");
    tests.asked(entry.material().id()).forEach(kept -> test(asked.addObject(), kept));
    try {
      Calibration can = tests.calibration(entry.material());
      json.put("confidence", can.words());
      can.drift().ifPresent(drift -> json.put("drift", drift.words()));
      can.contradiction().ifPresent(words -> json.put("contradiction", words));
      double jobC = 20;
      double dose = entry.material().gel().doseByWeightPct();
      if (dose >= 0.5 && dose <= 4) {
        json.put("nextTest", can.nextTest(jobC, dose, false, List.of(jobC)).words());
      }
    } catch (InvalidMaterial e) {
      json.put("confidence", String.valueOf(e.getMessage()));
    }
    return json;
  }

  private static void test(ObjectNode json, GelTests.Kept kept) {
    json.put("id", kept.id())
        .put("time", kept.time().toString())
        .put("where", GelTests.where(kept.test()))
        .put("temperatureC", kept.test().temperatureC())
        .put("doseByWeightPct", kept.test().doseByWeightPct())
        .put("minutes", kept.test().minutes())
        .put("from", kept.from())
        .put("words", GelTests.words(kept.test()));
  }

  /** Puts a can of the shop's own on the shelf. */
  public ObjectNode keep(byte[] file) throws InvalidMaterial, IOException {
    Material material = shelf.keep(file);
    changed.run();
    return can(shelf.find(material.id()).orElseThrow());
  }

  /** Takes a can of the shop's own off the shelf; false for a typical one. */
  public boolean remove(MaterialShelf.Entry entry) throws IOException {
    boolean removed = shelf.remove(entry.material().id());
    changed.run();
    return removed;
  }

  /** Keeps a gel test, or says what is wrong with it. */
  public List<Refusal> test(MaterialShelf.Entry entry, String id, JsonNode body) {
    List<Refusal> refused = new ArrayList<>();
    String where = body.path("where").asText("");
    if (!where.equals("cup") && !where.equals("layer")) {
      refused.add(new Refusal("where", where, "cup or layer", "where: enter cup or layer"));
    }
    double temperatureC = number(body, "temperatureC", 5, 40, "°C", refused);
    double dosePct = number(body, "doseByWeightPct", 0.5, 4, "% by weight", refused);
    double minutes = number(body, "minutes", 1, 1440, "min", refused);
    if (refused.isEmpty()) {
      GelTest.Where place = where.equals("cup") ? GelTest.Where.CUP : GelTest.Where.THIN_LAYER;
      GelTest test = new GelTest(place, temperatureC, dosePct, minutes);
      tests.add(entry.material().id(), id, now.get(), test, "typed");
      changed.run();
    }
    return refused;
  }

  private static double number(
      JsonNode body, String field, double min, double max, String unit, List<Refusal> refused) {
    JsonNode value = body.path(field);
    if (!value.isNumber() || !(value.doubleValue() >= min && value.doubleValue() <= max)) {
      String range = "a number from " + plain(min) + " to " + plain(max) + " " + unit;
      String given = value.isMissingNode() ? "missing" : value.toString();
      refused.add(new Refusal(field, given, range, field + ": enter " + range));
    }
    return value.asDouble();
  }

  private static String plain(double value) {
    return Words.plain(value);
  }

  /** A gel test that was asked about counts from now on. */
  public void confirm(MaterialShelf.Entry entry, String test) {
    tests.confirm(entry.material().id(), test, now.get());
    changed.run();
  }

  /** Leaves a gel test out from now on. */
  public void drop(MaterialShelf.Entry entry, String test) {
    tests.drop(entry.material().id(), test, now.get());
    changed.run();
  }

  /** The material has changed: its earlier tests count no more. */
  public void startAnew(MaterialShelf.Entry entry, String id) {
    tests.startAnew(entry.material().id(), id, now.get());
    changed.run();
  }
}
