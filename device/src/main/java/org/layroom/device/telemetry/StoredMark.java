package org.layroom.device.telemetry;

/**
 * Body of a {@code stored} message: everything of this outbox up to and with this sequence number
 * is committed by the dashboard, kept as rejected, or known to be lost.
 *
 * @param outbox the outbox meant
 * @param sequence 0 when nothing is stored yet
 */
public record StoredMark(String outbox, long sequence) {

  public byte[] write() {
    return JsonBody.write(JsonBody.object().put("outbox", outbox).put("sequence", sequence));
  }

  /**
   * Reads a stored mark.
   *
   * @throws MalformedMessage when the body is not a stored mark
   */
  public static StoredMark read(byte[] body) throws MalformedMessage {
    var node = JsonBody.read(body);
    if (!node.path("outbox").isTextual()
        || !node.path("sequence").isIntegralNumber()
        || node.path("sequence").longValue() < 0) {
      throw new MalformedMessage("a stored mark has a text outbox and a whole sequence");
    }
    return new StoredMark(node.path("outbox").textValue(), node.path("sequence").longValue());
  }
}
