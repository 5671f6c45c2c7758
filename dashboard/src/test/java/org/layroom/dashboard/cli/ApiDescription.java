package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.http.HttpResponse;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.layroom.dashboard.web.WebServer;

/** The description of the API, and whether an answer is as it says (JSON Schema 2020-12). */
final class ApiDescription {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final JsonSchemaFactory SCHEMAS =
      JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012);

  /** Answers that any place may give, whatever it is; each is a problem. */
  private static final Set<Integer> ANYWHERE = Set.of(401, 403, 404, 405, 409, 413, 415, 500);

  private final JsonNode all;
  private final Map<String, JsonSchema> schemas = new HashMap<>();

  ApiDescription() {
    try (InputStream file = WebServer.class.getResourceAsStream("page/openapi.json")) {
      all = JSON.readTree(Objects.requireNonNull(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Fails unless the answer is one that is described. */
  void holds(HttpResponse<String> response) {
    String type = response.headers().firstValue("Content-Type").orElse("");
    if (!type.startsWith("application/json") && !type.startsWith("application/problem+json")) {
      return;
    }
    String method = response.request().method().toLowerCase(Locale.ROOT);
    String path = response.uri().getPath();
    String what = method + " " + path + " " + response.statusCode();
    JsonNode operation = all.path("paths").path(path).path(method);
    if (operation.isMissingNode()) {
      assertFalse(response.statusCode() / 100 == 2, what + " is not described");
      return;
    }
    JsonNode answer =
        operation.path("responses").path(String.valueOf(response.statusCode())).path("content");
    if (answer.isMissingNode() && ANYWHERE.contains(response.statusCode())) {
      answer =
          JSON.createObjectNode()
              .set(
                  "application/problem+json",
                  JSON.createObjectNode()
                      .set(
                          "schema",
                          JSON.createObjectNode().put("$ref", "#/components/schemas/Problem")));
    }
    JsonNode schema = answer.path(type.replaceFirst(";.*", "")).path("schema");
    assertFalse(schema.isMissingNode(), what + ": " + type + " is not described");
    try {
      JsonNode body = JSON.readTree(response.body());
      assertEquals(
          Set.of(),
          schemas.computeIfAbsent(what, key -> whole(schema)).validate(body),
          what + ": " + response.body());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private JsonSchema whole(JsonNode schema) {
    ObjectNode root = JsonNodeFactory.instance.objectNode();
    root.putArray("allOf").add(schema);
    root.set("components", all.path("components"));
    return SCHEMAS.getSchema(root);
  }
}
