package org.layroom.device.telemetry;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;

/**
 * Body of an {@code acknowledge} message: somebody has seen a warning.
 *
 * @param id of the warning
 * @param who up to 60 characters
 * @param when by the clock of whoever says so
 */
public record Acknowledgment(String id, String who, Instant when) {
  private static final int LONGEST_NAME = 60;

  public byte[] write() {
    return JsonBody.write(
        JsonBody.object().put("id", id).put("who", who).put("when", when.toString()));
  }

  /**
   * Reads an acknowledgment.
   *
   * @throws MalformedMessage when the body is not one
   */
  public static Acknowledgment read(byte[] body) throws MalformedMessage {
    JsonNode node = JsonBody.read(body);
    String who = node.path("who").asText().strip();
    if (!node.path("id").isTextual() || who.isEmpty() || who.length() > LONGEST_NAME) {
      throw new MalformedMessage(
          "an acknowledgment has a text id and a who of 1 to " + LONGEST_NAME + " characters");
    }
    return new Acknowledgment(node.path("id").textValue(), who, AlarmState.time(node.path("when")));
  }
}
