package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.net.URI;
import java.time.Duration;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.PlainTopic;

/** Listens at a broker: topics, the records of readings with their units, and the newest bodies. */
final class SpokenNames implements AutoCloseable {
  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final Pattern OF_A_DEVICE = Pattern.compile("layroom/[^/]+/[^/]+/([^/]+)");
  private static final Pattern OF_A_ROOM = Pattern.compile("layroom/[^/]+/([^/]+)");

  private final MqttClient client;
  private final Map<String, JsonNode> bodies = new ConcurrentHashMap<>();
  private final Set<String> records = ConcurrentHashMap.newKeySet();

  SpokenNames(URI broker, OutboxDevice.Login login) throws MqttException {
    this.client = new MqttClient(broker.toString(), "names", new MemoryPersistence());
    MqttConnectOptions options = login.options();
    options.setCleanSession(true);
    client.connect(options);
    client.subscribe("#", 1, (topic, message) -> hear(topic, message.getPayload()));
  }

  private void hear(String topic, byte[] payload) throws IOException {
    if (topic.startsWith("layroom/dashboard/")) {
      return; // what the dashboard tells itself, to notice that it has gone deaf
    }
    if (topic.startsWith(PlainTopic.ROOT)) {
      return; // plain text, not JSON
    }
    String kind = kind(topic);
    JsonNode body = JSON.readTree(payload);
    if (kind.endsWith("/readings")) {
      for (JsonNode record : body) {
        records.add(
            "record %s %s"
                .formatted(
                    record.path("n").asText().replaceFirst("^.+-quality$", "<name>-quality"),
                    record.path("u").asText(""))
                .strip());
      }
    }
    bodies.put(kind, body);
  }

  private static String kind(String topic) {
    Matcher device = OF_A_DEVICE.matcher(topic);
    Matcher room = OF_A_ROOM.matcher(topic);
    if (device.matches()) {
      return "layroom/<room>/<device>/" + device.group(1);
    }
    return room.matches() ? "layroom/<room>/" + room.group(1) : topic;
  }

  /** The newest body of this kind of topic. */
  Optional<JsonNode> body(String kind) {
    return Optional.ofNullable(bodies.get(kind));
  }

  /** Waits until all of these have been heard. */
  void await(Duration limit, Set<String> names) {
    Set<String> missing = ConcurrentHashMap.newKeySet();
    missing.addAll(names);
    try {
      Until.within(
          limit,
          "all names are heard",
          () -> {
            missing.removeAll(all());
            return missing.isEmpty();
          });
    } catch (AssertionError e) {
      throw new AssertionError("not heard: " + missing + "; heard: " + all(), e);
    }
  }

  Set<String> all() {
    Set<String> all = new TreeSet<>(records);
    bodies.keySet().forEach(kind -> all.add("topic " + kind));
    return all;
  }

  @Override
  public void close() throws MqttException {
    client.disconnect();
    client.close();
  }
}
