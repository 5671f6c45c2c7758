package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assertions.fail;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.Duration;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.eclipse.paho.client.mqttv3.MqttException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.testing.OutboxDevice;
import org.layroom.device.telemetry.PlainTopic;
import org.layroom.device.telemetry.RoomName;
import org.layroom.device.telemetry.Series;
import org.layroom.device.telemetry.Topic;

/**
 * No name that others rely on goes away or changes its type unseen. It is looked at from outside:
 * commands are run, both programs name their settings, a dashboard is asked over HTTP and heard
 * over MQTT.
 */
class FrozenNamesIT {
  private static final String WRITE = "layroom.names.write";
  private static final String HOW =
      "mvn verify -pl dashboard -am -Dtest=None -Dit.test=FrozenNamesIT -Dlayroom.names.write"
          + " -Dsurefire.failIfNoSpecifiedTests=false -Dfailsafe.failIfNoSpecifiedTests=false";
  private static final Duration SOON = Duration.ofSeconds(90);

  /** What the demo's device says in its first minute. */
  private static final Set<String> RECORDS =
      Set.of(
          "record outbox",
          "record sequence",
          "record uptime s",
          "record sent-uptime s",
          "record temperature Cel",
          "record humidity %RH",
          "record mold-temperature Cel",
          "record resin-temperature Cel",
          "record voc-raw",
          "record voc-level /");

  /** Records of chips that the simulated bench has not, and of readings that are not good. */
  private static final Set<String> FURTHER_RECORDS =
      Set.of(
          "record " + Series.PRESSURE + " " + Series.PASCAL,
          "record " + Series.PID_VOLTAGE + " " + Series.VOLT,
          "record " + Series.ISOBUTYLENE + " " + Series.RATIO,
          "record " + Series.STYRENE_ESTIMATE + " " + Series.RATIO,
          "record <name>-quality");

  private static final Map<String, List<String>> BODIES =
      Map.of(
          "layroom/<room>/<device>/status",
              List.of("state", "since", "markWaitSeconds", "clockSet"),
          "layroom/<room>/<device>/stored", List.of("outbox", "sequence"),
          "layroom/<room>/<device>/alarm", List.of("state", "since"),
          "layroom/<room>/verdict", List.of("verdict", "validUntil"),
          "layroom/<room>/warnings", List.of("warnings", "validUntil"),
          "layroom/dashboard", List.of("state"));

  @TempDir Path folder = Path.of("");

  @Test
  void theNamesAreThoseThatArePromised() throws Exception {
    Set<String> names = new TreeSet<>(CommandNames.all());
    names.addAll(AnswerNames.all(folder));
    names.addAll(SettingNames.all(folder));
    names.addAll(topics());
    names.addAll(FURTHER_RECORDS);
    try (Demo demo = Demo.start(60, 0, Optional.empty(), ZoneId.of("UTC"))) {
      names.addAll(spoken(demo));
      names.addAll(PlaceNames.all(demo.page().web().uri()));
    }
    if (System.getProperty(WRITE) != null) {
      FrozenNames.write(names);
      fail("the names are written anew: look at what has changed, and run this without " + WRITE);
    }
    Set<String> promised = FrozenNames.read();
    Set<String> gone = new TreeSet<>(promised);
    gone.removeAll(names);
    assertEquals(Set.of(), gone, "these names are promised and are gone, or mean something else");
    names.removeAll(promised);
    assertEquals(Set.of(), names, "these names are new; look at them once more and run " + HOW);
  }

  private static Set<String> topics() {
    Set<String> topics = new TreeSet<>();
    for (Topic topic : Topic.values()) {
      topics.add("topic " + topic.everyDevice().replace("+/+", "<room>/<device>"));
    }
    RoomName room = RoomName.of("shop");
    for (String topic : List.of(Topic.verdict(room), Topic.warnings(room), Topic.jobs(room))) {
      topics.add("topic " + topic.replace("/shop/", "/<room>/"));
    }
    for (PlainTopic topic : PlainTopic.values()) {
      topics.add("topic " + topic.in(room).replace("/shop/", "/<room>/"));
    }
    topics.add("topic " + Topic.DASHBOARD);
    return topics;
  }

  private static Set<String> spoken(Demo demo) throws MqttException {
    try (SpokenNames heard =
        new SpokenNames(
            demo.page().core().brokerUri(),
            OutboxDevice.Login.dashboards(demo.page().core().logins()))) {
      Set<String> wanted = new TreeSet<>(RECORDS);
      BODIES.keySet().forEach(kind -> wanted.add("topic " + kind));
      heard.await(SOON, wanted);
      for (Map.Entry<String, List<String>> body : BODIES.entrySet()) {
        JsonNode said = heard.body(body.getKey()).orElseThrow();
        for (String field : body.getValue()) {
          assertTrue(said.has(field), body.getKey() + " lacks " + field + ": " + said);
        }
      }
      return heard.all();
    }
  }
}
