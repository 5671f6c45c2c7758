package org.layroom.device.telemetry;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;

/**
 * The description of the topics for programs (AsyncAPI 3.0) and the page for people against the
 * topics and messages of the code. That the description is a right one is looked at by the parser
 * of the AsyncAPI project, in {@code .ci/edges}.
 */
class AsyncApiTest {
  private static final Path PAGE = Path.of("TOPICS.md");
  private static final Instant EVENING = Instant.parse("2026-03-01T18:00:00Z");
  private static final JsonSchemaFactory SCHEMAS =
      JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012);

  private final JsonNode description;

  AsyncApiTest() throws IOException {
    description = JsonMapper.builder().build().readTree(Path.of("asyncapi.json").toFile());
  }

  /** Whether each topic is retained. */
  private static Map<String, Boolean> topics() {
    Map<String, Boolean> topics = new HashMap<>();
    RoomName room = RoomName.of("x");
    for (Topic topic : Topic.values()) {
      topics.put(topic.everyDevice().replace("+/+", "{room}/{device}"), topic.retained());
    }
    for (String topic : List.of(Topic.verdict(room), Topic.warnings(room), Topic.jobs(room))) {
      topics.put(topic.replace("/x/", "/{room}/"), true);
    }
    topics.put(Topic.DASHBOARD, true);
    for (PlainTopic topic : PlainTopic.values()) {
      topics.put(topic.in(room).replace("/x/", "/{room}/"), true);
    }
    return topics;
  }

  @Test
  void everyTopicIsDescribedWithItsRetainFlagAndNoOther() {
    Map<String, Boolean> described = new HashMap<>();
    Set<String> without = new HashSet<>();
    for (var channel : description.path("channels").properties()) {
      String address = channel.getValue().path("address").asText();
      without.add(address);
      for (JsonNode operation : description.path("operations")) {
        String of = operation.at("/channel/$ref").asText();
        if (of.equals("#/channels/" + channel.getKey())) {
          JsonNode mqtt = operation.at("/bindings/mqtt");
          assertEquals(Topic.QOS, mqtt.path("qos").asInt(), address);
          described.put(address, mqtt.path("retain").asBoolean());
          without.remove(address);
        }
      }
    }
    assertEquals(Set.of(), without, "channels without an operation");
    assertEquals(topics(), described);
  }

  @Test
  void thePageForPeopleNamesEveryTopic() throws IOException {
    String page = Files.readString(PAGE);
    for (String topic : topics().keySet()) {
      String written = topic.replace("{room}", "<room>").replace("{device}", "<device>");
      assertTrue(page.contains("| `" + written + "` |"), written);
    }
  }

  private JsonSchema schema(String message) {
    ObjectNode root = JsonNodeFactory.instance.objectNode();
    root.set("components", description.path("components"));
    root.putArray("allOf").addObject().put("$ref", "#/components/schemas/" + message);
    return SCHEMAS.getSchema(root);
  }

  private void fits(String message, byte[] body) throws IOException {
    JsonNode read = JsonMapper.builder().build().readTree(body);
    assertEquals(
        Set.of(),
        schema(message).validate(read),
        message + ": " + new String(body, StandardCharsets.UTF_8));
  }

  @Test
  void whatTheCodeWritesIsAsDescribed() throws IOException {
    fits("Status", DeviceStatus.OFFLINE.write());
    fits(
        "Status",
        new DeviceStatus(
                true,
                Optional.of(EVENING),
                List.of(new DeviceStatus.PartFault("sgp40", "does not answer")),
                List.of(),
                Optional.of(Duration.ofSeconds(150)),
                Optional.empty())
            .clock(new DeviceStatus.Clock(true, Optional.of(EVENING)))
            .write());
    fits("Stored", new StoredMark("3f2a", 0).write());
    fits("Acknowledge", new Acknowledgment("a-1", "Kim", EVENING).write());
    for (String state : List.of("ok", "ventilate", "unknown", "leave")) {
      fits(
          "Alarm",
          new AlarmState(
                  state,
                  Optional.of(EVENING),
                  "a-1",
                  Optional.of(new Acknowledgment("a-1", "Kim", EVENING)),
                  List.of("Vapor is high."),
                  "Open the door.",
                  "Vapor is low.",
                  AlarmState.Uses.NOTHING)
              .write());
    }
  }

  @Test
  void everyExampleIsAsDescribedAndOneThatIsNotIsRefused() throws IOException {
    for (var message : description.at("/components/messages").properties()) {
      JsonNode example = message.getValue().at("/examples/0/payload");
      String ref = message.getValue().at("/payload/$ref").asText();
      assertFalse(example.isMissingNode(), message.getKey());
      if (!ref.isEmpty()) {
        assertEquals(Set.of(), schema(message.getKey()).validate(example), message.getKey());
      }
    }
    JsonNode nonsense = JsonMapper.builder().build().readTree("{\"state\":\"fine\",\"id\":\"\"}");
    assertFalse(schema("Alarm").validate(nonsense).isEmpty());
  }
}
