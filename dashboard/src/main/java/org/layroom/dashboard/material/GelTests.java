package org.layroom.dashboard.material;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.layroom.dashboard.store.EventLog;
import org.layroom.predictor.calibration.Calibration;
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

  private final EventLog log;
  private final Map<String, List<Kept>> known = new ConcurrentHashMap<>();

  /** The tests in a store; nobody else writes them while this is in use. */
  public GelTests(EventLog log) {
    this.log = log;
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
    ObjectNode body = JSON.createObjectNode().put("type", "gel-test");
    body.put("where", where(test)).put("temperatureC", test.temperatureC());
    body.put("doseByWeightPct", test.doseByWeightPct()).put("minutes", test.minutes());
    body.put("from", from);
    return append(material, id, time, body);
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
    return fresh;
  }

  /** The tests of a can that count, the oldest first. */
  public List<Kept> tests(String material) {
    return known.computeIfAbsent(material, this::fromLog);
  }

  private List<Kept> fromLog(String material) {
    List<Kept> tests = new ArrayList<>();
    Set<String> dropped = new HashSet<>();
    for (EventLog.Event event : log.events(stream(material))) {
      JsonNode body = read(event);
      switch (body.path("type").asText()) {
        case "gel-test" -> tests.add(kept(event, body));
        case "dropped" -> dropped.add(body.path("test").asText());
        case "started-anew" -> tests.clear();
        default -> Logger.error("Event {} of {} is not known", event.id(), event.stream());
      }
    }
    tests.removeIf(test -> dropped.contains(test.id()));
    return List.copyOf(tests);
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
            body.path("minutes").asDouble());
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
    Calibration calibration = Calibration.of(material);
    for (Kept kept : tests(material.id())) {
      calibration = calibration.with(kept.test());
    }
    return calibration;
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
