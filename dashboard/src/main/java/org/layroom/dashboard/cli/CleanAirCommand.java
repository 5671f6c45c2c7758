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
import org.layroom.predictor.limits.Words;
import org.layroom.predictor.vapor.CleanAirProcedure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom clean-air}: the vapor chip's clean-air reading, taken on purpose. */
@Command(
    name = "clean-air",
    mixinStandardHelpOptions = true,
    description = "Takes the vapor sensor's clean-air reading, step by step.",
    footer = {
      "",
      "  layroom clean-air start --aired --no-open-resin --nothing-curing",
      "  layroom clean-air state",
      "  layroom clean-air take --who Kim"
    })
final class CleanAirCommand extends AnswerCommand {
  /** What is to be done. */
  enum Action {
    START,
    STATE,
    TAKE
  }

  @Parameters(paramLabel = "start|state|take", description = "start, state or take.")
  Action action = Action.STATE;

  @Option(
      names = "--aired",
      description = "The room is open to the outdoors or the fan runs, and stays so.")
  boolean aired;

  @Option(names = "--no-open-resin", description = "No can, cup or solvent is open.")
  boolean noOpenResin;

  @Option(
      names = "--nothing-curing",
      description = "No part laid up in the last three days is in the room.")
  boolean nothingCuring;

  @Option(
      names = "--who",
      paramLabel = "NAME",
      description = "Name of the person who takes the reading.")
  String who = "command line";

  @Option(names = "--confirm", description = "Take it although it reads dirtier than the last one.")
  boolean confirm;

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    ObjectNode json = watched.ask("api/clean-air", body());
    Answer.outcome(json, List.of(), List.of());
    return new Answer(json, words(json), false);
  }

  private Optional<ObjectNode> body() {
    ObjectNode node = JsonNodeFactory.instance.objectNode();
    return switch (action) {
      case STATE -> Optional.empty();
      case START ->
          Optional.of(
              node.put("action", "start")
                  .put("airedToOutdoors", aired)
                  .put("noOpenResin", noOpenResin)
                  .put("nothingCuring", nothingCuring));
      case TAKE ->
          Optional.of(
              node.put("action", "take")
                  .put("id", UUID.randomUUID().toString())
                  .put("who", who)
                  .put("confirm", confirm));
    };
  }

  private static List<String> words(JsonNode json) {
    List<String> lines = new ArrayList<>();
    if (json.has("taken")) {
      lines.add("Taken: " + json.at("/taken/raw").asLong() + " ticks. Take a new one in 7 days.");
    }
    json.path("words").forEach(line -> lines.add(line.asText()));
    if (json.path("leftSeconds").asDouble() > 0) {
      lines.add("About " + Words.minutes(json.path("leftSeconds").asDouble() / 60) + " to go.");
    }
    for (JsonNode device : json.path("devices")) {
      if (device.has("cleanAirAsked")) {
        lines.add(device.path("device").asText() + ": " + device.path("cleanAirAsked").asText());
      }
      if (device.has("cleanAir")) {
        lines.add(
            device.path("device").asText() + ": taken " + device.at("/cleanAir/taken").asText());
      }
    }
    if (!json.has("taken") && !json.path("going").asBoolean()) {
      lines.add(
          "Use \"start\" first, and air the room for "
              + CleanAirProcedure.AIRING.toMinutes()
              + " min with every can shut.");
    }
    return lines;
  }
}
