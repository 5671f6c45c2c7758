package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.CheckAnswer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.verdict.Condition;
import org.layroom.predictor.verdict.Conditions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom check}: from conditions typed, or from the room that the dashboard watches. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    description = "Is the room warm, dry and ventilated enough to mix? With reasons.",
    footer = {
      "",
      "Enter the conditions, or let the running dashboard answer for its room:",
      "  layroom check --material gp-resin --air-temp 19C --humidity 62%% --mold-temp 18C",
      "  layroom check --material gp-resin --room shop"
    })
final class CheckCommand extends AnswerCommand {
  @Mixin MaterialChoice material = new MaterialChoice();

  @Mixin RoomChoice watched = new RoomChoice();

  @Option(
      names = "--air-temp",
      paramLabel = "19C",
      converter = QuantityOptions.Celsius.class,
      description = "Air temperature, °C or °F.")
  Optional<Double> airC = Optional.empty();

  @Option(
      names = "--humidity",
      paramLabel = "62%",
      converter = QuantityOptions.Percent.class,
      description = "Relative humidity, %%.")
  Optional<Double> humidityPct = Optional.empty();

  @Option(
      names = "--mold-temp",
      paramLabel = "18C",
      converter = QuantityOptions.Celsius.class,
      description = "Temperature of the mold surface, °C or °F.")
  Optional<Double> moldC = Optional.empty();

  @Option(
      names = "--resin-temp",
      paramLabel = "18C",
      converter = QuantityOptions.Celsius.class,
      description = "Temperature in the can, °C or °F.")
  Optional<Double> resinC = Optional.empty();

  @Option(names = "--mold-wet", description = "There is water on the mold.")
  boolean moldWet;

  @Override
  Answer answer() throws StartFailure {
    boolean typed =
        airC.isPresent()
            || humidityPct.isPresent()
            || moldC.isPresent()
            || resinC.isPresent()
            || moldWet;
    if (watched.room.isPresent() && typed) {
      throw new RefusedInput(
          new Refusal(
              "room",
              watched.room.get(),
              "either a room or conditions",
              "Enter either --room or the conditions, not both."));
    }
    return typed ? fromConditions() : fromRoom();
  }

  private Answer fromConditions() {
    try {
      Conditions conditions = Conditions.nothingKnown().withMoldWet(moldWet);
      if (airC.isPresent()) {
        conditions = conditions.withAirC(Condition.typed(airC.get()));
      }
      if (humidityPct.isPresent()) {
        conditions = conditions.withHumidityPct(Condition.typed(humidityPct.get()));
      }
      if (moldC.isPresent()) {
        conditions = conditions.withMoldC(Condition.typed(moldC.get()));
      }
      if (resinC.isPresent()) {
        conditions = conditions.withResinC(Condition.typed(resinC.get()));
      }
      return CheckAnswer.of(material.chosen(), conditions);
    } catch (IllegalArgumentException e) {
      throw new RefusedInput(new Refusal("conditions", "", "", String.valueOf(e.getMessage())));
    }
  }

  private Answer fromRoom() throws StartFailure {
    Map<String, List<String>> parameters = new LinkedHashMap<>();
    watched.room.ifPresent(name -> parameters.put("room", List.of(name)));
    ObjectNode json = watched.client().get("api/check", parameters, material);
    List<String> words = new ArrayList<>();
    String verdict = json.path("words").asText();
    words.add(
        verdict.substring(0, 1).toUpperCase(Locale.ROOT)
            + verdict.substring(1)
            + (json.has("materialName") ? ": " + json.path("materialName").asText() : ""));
    for (JsonNode reason : json.path("reasons")) {
      words.add("  " + reason.path("words").asText());
    }
    return new Answer(json, words, false);
  }
}
