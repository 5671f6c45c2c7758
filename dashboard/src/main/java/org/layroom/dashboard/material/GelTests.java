package org.layroom.dashboard.material;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import org.layroom.dashboard.store.EventLog;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.calibration.CanAge;
import org.layroom.predictor.calibration.GelTest;
import org.layroom.predictor.material.InvalidMaterial;
import org.layroom.predictor.material.Material;
import org.tinylog.Logger;

/**
 * The gel tests that this shop has made of each of its cans, kept in the store for ever. What they
 * teach is worked out anew each time, so a test that is dropped leaves no trace in the band.
 */
public final class GelTests {
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** The tests of a can: those that count, and those that wait for a word. */
  private record Can(List<Kept> tests, List<Kept> asked) {}

  private record Taught(Material material, Calibration calibration) {}

  private final EventLog log;
  private final Supplier<Instant> now;
  private final Map<String, Can> known = new ConcurrentHashMap<>();
  private final Map<String, Taught> taught = new ConcurrentHashMap<>();

  /**
   * The tests in a store; nobody else writes them while this is in use.
   *
   * @param now the room's time: a can that was tested long ago is known less well
   */
  public GelTests(EventLog log, Supplier<Instant> now) {
    this.log = log;
    this.now = now;
  }

  /**
   * A test as kept.
   *
   * @param id made by whoever sent it
   * @param from where it was taken: a job, or typed
   */
  public record Kept(String id, Instant time, GelTest test, String from) {}

  private static String stream(String material) {
    return "can/" + material;
  }

  /** Keeps a test. False when a test of this id is kept already. */
  public boolean add(String material, String id, Instant time, GelTest test, String from) {
    return append(material, id, time, body(test, from));
  }

  /**
   * Keeps a test that is hardly possible: it teaches nothing until it is confirmed. False when a
   * test of this id is kept already.
   */
  public boolean ask(String material, String id, Instant time, GelTest test, String from) {
    return append(material, id, time, body(test, from).put("asked", true));
  }

  /** A test that was asked about was taken in time: it counts from now on. */
  public boolean confirm(String material, String id, Instant time) {
    ObjectNode body = JSON.createObjectNode().put("type", "confirmed").put("test", id);
    return append(material, "confirm-" + id, time, body);
  }

  private static ObjectNode body(GelTest test, String from) {
    ObjectNode body = JSON.createObjectNode().put("type", "gel-test");
    body.put("where", where(test)).put("temperatureC", test.temperatureC());
    body.put("doseByWeightPct", test.doseByWeightPct()).put("minutes", test.minutes());
    if (test.timingMinutes() > 0) {
      body.put("timingMinutes", test.timingMinutes());
    }
    return body.put("from", from);
  }

  /** Leaves a test out from now on: a mistaken tap, a spoiled cup. */
  public boolean drop(String material, String id, Instant time) {
    ObjectNode body = JSON.createObjectNode().put("type", "dropped").put("test", id);
    return append(material, "drop-" + id, time, body);
  }

  /** The resin or the catalyst has changed: earlier tests count no more. */
  public boolean startAnew(String material, String id, Instant time) {
    ObjectNode body = JSON.createObjectNode().put("type", "started-anew");
    return append(material, id, time, body);
  }

  private boolean append(String material, String id, Instant time, ObjectNode body) {
    boolean fresh = log.append(stream(material), id, time, body.toString());
    known.remove(material);
    taught.remove(material);
    return fresh;
  }

  /** The tests of a can that count, the oldest first. */
  public List<Kept> tests(String material) {
    return known.computeIfAbsent(material, this::fromLog).tests();
  }

  /** The tests of a can that are asked about and teach nothing yet, the oldest first. */
  public List<Kept> asked(String material) {
    return known.computeIfAbsent(material, this::fromLog).asked();
  }

  private Can fromLog(String material) {
    List<Kept> tests = new ArrayList<>();
    Set<String> asked = new HashSet<>();
    Set<String> confirmed = new HashSet<>();
    Set<String> dropped = new HashSet<>();
    for (EventLog.Event event : log.events(stream(material))) {
      JsonNode body = read(event);
      switch (body.path("type").asText()) {
        case "gel-test" -> {
          tests.add(kept(event, body));
          if (body.path("asked").asBoolean()) {
            asked.add(event.id());
          }
        }
        case "confirmed" -> confirmed.add(body.path("test").asText());
        case "dropped" -> dropped.add(body.path("test").asText());
        case "started-anew" -> tests.clear();
        default -> Logger.error("Event {} of {} is not known", event.id(), event.stream());
      }
    }
    tests.removeIf(test -> dropped.contains(test.id()));
    asked.removeAll(confirmed);
    return new Can(
        tests.stream().filter(test -> !asked.contains(test.id())).toList(),
        tests.stream().filter(test -> asked.contains(test.id())).toList());
  }

  private static JsonNode read(EventLog.Event event) {
    try {
      return JSON.readTree(event.body());
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("event " + event.id() + " of " + event.stream(), e);
    }
  }

  private static Kept kept(EventLog.Event event, JsonNode body) {
    GelTest test =
        new GelTest(
            body.path("where").asText().equals("cup")
                ? GelTest.Where.CUP
                : GelTest.Where.THIN_LAYER,
            body.path("temperatureC").asDouble(),
            body.path("doseByWeightPct").asDouble(),
            body.path("minutes").asDouble(),
            body.path("timingMinutes").asDouble(0));
    return new Kept(event.id(), event.time(), test, body.path("from").asText());
  }

  /** What a test is called in JSON: {@code cup} or {@code layer}. */
  public static String where(GelTest test) {
    return test.where() == GelTest.Where.CUP ? "cup" : "layer";
  }

  /**
   * A can with what its tests have taught.
   *
   * @throws InvalidMaterial when its table of gel times contradicts itself
   */
  public Calibration calibration(Material material) throws InvalidMaterial {
    List<Kept> tests = tests(material.id());
    Taught kept = taught.get(material.id());
    if (kept == null || !kept.material().equals(material)) {
      Calibration calibration = Calibration.of(material);
      for (Kept test : tests) {
        calibration = calibration.with(test.test());
      }
      kept = new Taught(material, calibration);
      taught.put(material.id(), kept);
    }
    return tests.isEmpty()
        ? kept.calibration()
        : kept.calibration()
            .aged(CanAge.since(Duration.between(tests.get(tests.size() - 1).time(), now.get())));
  }

  /** One test in words. */
  public static String words(GelTest test) {
    return String.format(
        Locale.ROOT,
        "%s, %.1f °C, %.2f %%: gelled in %.0f min",
        test.where() == GelTest.Where.CUP ? "cup" : "thin layer",
        test.temperatureC(),
        test.doseByWeightPct(),
        test.minutes());
  }
}
