package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom bump-test}: whether the vapor sensors still sense vapor, and how old they are. */
@Command(
    name = "bump-test",
    mixinStandardHelpOptions = true,
    description = "Tests the vapor sensor with a known vapor, and lists age and hours of each.",
    footer = {
      "",
      "  layroom bump-test",
      "  layroom bump-test start --who Kim",
      "  layroom bump-test seen --who Kim",
      "  layroom bump-test seen --who Kim --stayed-off",
      "  layroom bump-test new-sensor --who Kim"
    })
final class BumpTestCommand extends AnswerCommand {
  /** What is to be done. */
  enum Action {
    STATE,
    START,
    SEEN,
    NEW_SENSOR;

    /** As it is typed. */
    @Override
    public String toString() {
      return name().replace('_', '-');
    }
  }

  @Parameters(
      paramLabel = "state|start|seen|new-sensor",
      arity = "0..1",
      description =
          "state, start, seen: say whether lamp, buzzer and fan came on, or new-sensor: say that"
              + " another was fitted.")
  Action action = Action.STATE;

  @Option(
      names = "--stayed-off",
      description = "With seen: the lamp, the buzzer or the fan stayed off.")
  boolean stayedOff;

  @Option(names = "--who", paramLabel = "NAME", description = "Name of the person who tests.")
  String who = "command line";

  @Option(names = "--device", paramLabel = "NAME", description = "One of several devices.")
  Optional<String> device = Optional.empty();

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    ObjectNode json = watched.ask("api/bump-test", body());
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, words(json), false);
  }

  private Optional<ObjectNode> body() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    node.put("id", UUID.randomUUID().toString()).put("who", who);
    device.ifPresent(name -> node.put("device", name));
    return switch (action) {
      case STATE -> Optional.empty();
      case START -> Optional.of(node.put("action", "start"));
      case NEW_SENSOR -> Optional.of(node.put("action", "new-sensor"));
      case SEEN -> Optional.of(node.put("action", "seen").put("alarmSeen", !stayedOff));
    };
  }

  private List<String> words(JsonNode json) {
    List<String> lines = new ArrayList<>();
    boolean going = false;
    for (JsonNode device : json.path("devices")) {
      String name = device.path("device").asText() + ": ";
      lines.add(name + sensor(device.path("sensor")));
      if (device.path("going").asBoolean()) {
        going = true;
        lines.add(name + device.path("words").asText());
      }
      JsonNode asked = device.at("/sensor/bumpTestAsked");
      if (asked.isTextual()) {
        lines.add(name + asked.asText());
      }
    }
    if (lines.isEmpty()) {
      lines.add("No vapor sensor in this room.");
    } else if (going || action == Action.STATE) {
      json.path("steps").forEach(step -> lines.add(step.asText()));
      lines.add(json.path("caution").asText());
      lines.add(json.path("source").asText());
    }
    return lines;
  }

  private static String sensor(JsonNode sensor) {
    JsonNode test = sensor.path("lastTest");
    return "%d days old, %.0f h on, %s"
        .formatted(
            sensor.path("ageDays").asLong(),
            sensor.path("hoursOn").asDouble(),
            test.isObject()
                ? "last bump test "
                    + test.path("time").asText()
                    + ". "
                    + test.path("words").asText()
                : "no bump test yet.");
  }
}
