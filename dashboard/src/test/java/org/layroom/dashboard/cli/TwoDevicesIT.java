package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.eclipse.paho.client.mqttv3.MqttClient;
import org.eclipse.paho.client.mqttv3.MqttConnectOptions;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.eclipse.paho.client.mqttv3.persist.MemoryPersistence;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.testing.Until;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.telemetry.Topic;

/** Two devices in one room, at the shipped dashboard; the second one's name sorts first. */
class TwoDevicesIT {
  /** *Ventilate* comes with the first whole minute, *leave* a minute later. */
  private static final Duration SOON = Duration.ofMinutes(4);

  private static final Channel WORKBENCH = Channel.of("shop", "workbench");
  private static final Channel ANNEX = Channel.of("shop", "annex");

  @TempDir(cleanup = CleanupMode.ON_SUCCESS)
  Path folder = Path.of("");

  private ShippedJars.Running dashboard() throws IOException {
    Path config =
        Files.writeString(
            folder.resolve("dashboard.properties"),
            "http.port=0\nbroker.port=0\nzone=UTC\ndata=" + folder.resolve("data") + "\n");
    return ShippedJars.start(
        ShippedJars.DASHBOARD,
        "Ready",
        folder.resolve("dashboard.log"),
        "serve",
        "--config",
        config.toString());
  }

  private static MqttClient device(String broker, Channel channel, String password)
      throws MqttException {
    MqttClient client = new MqttClient(broker, channel.clientId(), new MemoryPersistence());
    client.setTimeToWait(SOON.toMillis());
    MqttConnectOptions options = new MqttConnectOptions();
    options.setUserName(channel.user());
    options.setPassword(password.toCharArray());
    client.connect(options);
    return client;
  }

  private static void measures(MqttClient device, Channel channel, double celsius, double level) {
    String body =
        """
        [{"bn":"%s","n":"temperature","u":"Cel","v":%s},{"n":"voc-level","u":"/","v":%s}]
        """
            .formatted(channel.baseName(), celsius, level);
    try {
      device.publish(
          channel.topic(Topic.READINGS), body.getBytes(StandardCharsets.UTF_8), Topic.QOS, false);
    } catch (MqttException e) {
      throw new IllegalStateException(e);
    }
  }

  private static JsonNode get(ShippedJars.Running dashboard, String path) {
    int port = URI.create(dashboard.after("Page:")).getPort();
    try {
      return JsonMapper.builder()
          .build()
          .readTree(RawHttp.ask(port, "GET " + path, "", "Host: localhost:" + port).body());
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  private static String speaker(ShippedJars.Running dashboard) {
    return get(dashboard, "/api/room").at("/series/temperature/device").asText();
  }

  @Test
  void theWorstCountsForTheAirAndAPersonChoosesWhoSpeaksForTheTemperature() throws Exception {
    DeviceLogins logins = DeviceLogins.of(folder.resolve("data"));
    String first = logins.pair(WORKBENCH);
    String second = logins.pair(ANNEX);
    try (ShippedJars.Running dashboard = dashboard()) {
      String broker = dashboard.after("Broker:");
      MqttClient workbench = device(broker, WORKBENCH, first);
      Until.within(
          SOON,
          "80 times clean air: don't mix",
          () -> {
            measures(workbench, WORKBENCH, 20, 80);
            return get(dashboard, "/api/room").at("/verdict/verdict").asText().equals("no");
          });
      MqttClient annex = device(broker, ANNEX, second);
      for (int i = 0; i < 5; i++) {
        measures(workbench, WORKBENCH, 20, 80);
        measures(annex, ANNEX, 10, 1);
        JsonNode room = get(dashboard, "/api/room");
        assertEquals("no", room.at("/verdict/verdict").asText(), room.toString());
      }
      Until.within(
          SOON, "both are there", () -> get(dashboard, "/api/room").at("/devices").size() == 2);
      assertEquals("workbench", speaker(dashboard), "the first heard of, whatever its name");
      JsonNode sensor = get(dashboard, "/api/offsets").at("/sensors/0");
      assertEquals("temperature", sensor.path("series").asText());
      assertEquals("[\"workbench\",\"annex\"]", sensor.path("devices").toString());
      assertTrue(sensor.path("speaker").asText().startsWith("workbench was heard first"));
      int port = URI.create(dashboard.after("Page:")).getPort();
      String choice = "{\"who\":\"Kim\",\"series\":\"temperature\",\"speaker\":\"%s\"}";
      String host = "Host: localhost:" + port;
      assertEquals(
          400, RawHttp.ask(port, "POST /api/offsets", choice.formatted("attic"), host).status());
      assertEquals(
          200, RawHttp.ask(port, "POST /api/offsets", choice.formatted("annex"), host).status());
      assertEquals("annex", speaker(dashboard));
      workbench.disconnect();
      annex.disconnect();
      workbench.close();
      annex.close();
    }
    try (ShippedJars.Running dashboard = dashboard()) {
      assertEquals("annex", speaker(dashboard), "after a restart too");
    }
  }
}
