package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.Arrays;
import java.util.Optional;
import org.layroom.predictor.material.TemperatureRange;
import org.layroom.predictor.verdict.State;

/**
 * What a device hears of its room's {@code verdict} message: the dashboard's mix check, and at what
 * temperatures the chosen can may be used. The other fields are for people.
 *
 * @param verdict empty where only the can is known any more
 * @param temperatureC of the can; empty where the dashboard did not say
 */
public record RoomVerdict(Optional<State> verdict, Optional<TemperatureRange> temperatureC) {
  /** The same without the verdict: for a message that may be old. */
  public RoomVerdict withoutVerdict() {
    return new RoomVerdict(Optional.empty(), temperatureC);
  }

  public byte[] write() {
    ObjectNode node = JsonBody.object();
    verdict.ifPresent(state -> node.put("verdict", state.id()));
    temperatureC.ifPresent(
        range -> node.putObject("temperatureC").put("min", range.min()).put("max", range.max()));
    return JsonBody.write(node);
  }

  /**
   * Reads a verdict.
   *
   * @throws MalformedMessage when the body is not a verdict, or names one that is not known
   */
  public static RoomVerdict read(byte[] body) throws MalformedMessage {
    JsonNode node = JsonBody.read(body);
    Optional<String> id = Optional.of(node.path("verdict").asText()).filter(s -> !s.isEmpty());
    Optional<State> state =
        id.flatMap(
            wanted -> Arrays.stream(State.values()).filter(s -> s.id().equals(wanted)).findFirst());
    if (state.isEmpty() != id.isEmpty()) {
      throw new MalformedMessage("verdict \"" + id.get() + "\" is not known");
    }
    return new RoomVerdict(state, range(node.path("temperatureC")));
  }

  private static Optional<TemperatureRange> range(JsonNode node) throws MalformedMessage {
    if (node.isMissingNode()) {
      return Optional.empty();
    }
    if (!node.path("min").isNumber() || !node.path("max").isNumber()) {
      throw new MalformedMessage("the can's temperatures must be two numbers");
    }
    try {
      return Optional.of(
          new TemperatureRange(node.path("min").doubleValue(), node.path("max").doubleValue()));
    } catch (IllegalArgumentException e) {
      throw new MalformedMessage("verdict: " + e.getMessage(), e);
    }
  }
}
