package org.layroom.device.telemetry;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;

/** Small JSON objects of the contract, read with tight limits. */
final class JsonBody {
  private static final JsonMapper JSON = StrictJson.mapper(8);

  private JsonBody() {}

  static ObjectNode object() {
    return JsonNodeFactory.instance.objectNode();
  }

  static byte[] write(ObjectNode node) {
    try {
      return JSON.writeValueAsBytes(node);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }

  static JsonNode read(byte[] body) throws MalformedMessage {
    if (body.length > Topic.LARGEST_MESSAGE_BYTES) {
      throw new MalformedMessage("message of " + body.length + " bytes is too large");
    }
    try {
      JsonNode node = JSON.readTree(body);
      if (node == null || !node.isObject()) {
        throw new MalformedMessage("not a JSON object");
      }
      return node;
    } catch (IOException e) {
      throw new MalformedMessage("not JSON", e);
    }
  }
}
