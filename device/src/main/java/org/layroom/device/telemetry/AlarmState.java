package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Body of an {@code alarm} message: what the air calls for in the device's own judgment.
 *
 * @param state {@code ok}, {@code ventilate}, {@code unknown} or {@code leave}
 * @param since when it was raised; empty when the device's clock is not set, and for ok
 * @param id of the warning, never used again by another start of the device; empty for ok
 * @param acknowledged who has seen it
 * @param why reasons in words that the sensor is entitled to
 * @param whatToDo what to do; empty for ok
 * @param endsWhen what would end it; empty for ok
 * @param uses which decisions the device goes by
 */
public record AlarmState(
    String state,
    Optional<Instant> since,
    String id,
    Optional<Acknowledgment> acknowledged,
    List<String> why,
    String whatToDo,
    String endsWhen,
    Uses uses) {
  /**
   * Which decisions a device goes by, so that both sides can say whether they agree.
   *
   * @param settingsDecided when the newest settings that it took were decided
   * @param settingsBy who decided them; empty where nobody is named
   * @param cleanAirTaken when its clean-air reading was taken
   */
  public record Uses(
      Optional<Instant> settingsDecided, String settingsBy, Optional<Instant> cleanAirTaken) {
    public static final Uses NOTHING = new Uses(Optional.empty(), "", Optional.empty());
  }

  private static final Set<String> STATES = Set.of("ok", "ventilate", "unknown", "leave");

  public AlarmState {
    why = List.copyOf(why);
    if (!STATES.contains(state)) {
      throw new IllegalArgumentException("alarm state \"" + state + "\" must be one of " + STATES);
    }
  }

  public byte[] write() {
    ObjectNode node = JsonBody.object().put("state", state).put("id", id);
    since.ifPresent(instant -> node.put("since", instant.toString()));
    acknowledged.ifPresent(
        seen ->
            node.putObject("acknowledged")
                .put("who", seen.who())
                .put("when", seen.when().toString()));
    var reasons = node.putArray("why");
    why.forEach(reasons::add);
    uses.settingsDecided()
        .ifPresent(
            time ->
                node.put("settingsDecided", time.toString()).put("settingsBy", uses.settingsBy()));
    uses.cleanAirTaken().ifPresent(time -> node.put("cleanAirTaken", time.toString()));
    return JsonBody.write(node.put("whatToDo", whatToDo).put("endsWhen", endsWhen));
  }

  /**
   * Reads an alarm.
   *
   * @throws MalformedMessage when the body is not one
   */
  public static AlarmState read(byte[] body) throws MalformedMessage {
    JsonNode node = JsonBody.read(body);
    String state = node.path("state").asText();
    if (!STATES.contains(state)) {
      throw new MalformedMessage("state must be one of " + STATES);
    }
    String id = node.path("id").asText();
    List<String> why = new ArrayList<>();
    node.path("why").forEach(reason -> why.add(reason.asText()));
    JsonNode seen = node.path("acknowledged");
    return new AlarmState(
        state,
        optionalTime(node, "since"),
        id,
        seen.isObject()
            ? Optional.of(
                new Acknowledgment(id, seen.path("who").asText(), time(seen.path("when"))))
            : Optional.empty(),
        why,
        node.path("whatToDo").asText(),
        node.path("endsWhen").asText(),
        new Uses(
            optionalTime(node, "settingsDecided"),
            node.path("settingsBy").asText(),
            optionalTime(node, "cleanAirTaken")));
  }

  private static Optional<Instant> optionalTime(JsonNode node, String name)
      throws MalformedMessage {
    return node.has(name) ? Optional.of(time(node.path(name))) : Optional.empty();
  }

  static Instant time(JsonNode node) throws MalformedMessage {
    try {
      return Instant.parse(node.asText());
    } catch (DateTimeParseException e) {
      throw new MalformedMessage("times must be ISO 8601", e);
    }
  }
}
