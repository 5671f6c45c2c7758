package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.PlanAnswer;
import org.layroom.dashboard.answer.PlanQuestion;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.room.RoomForecaster;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom plan}: when to start, from a recording or for the running room. */
@Command(
    name = "plan",
    mixinStandardHelpOptions = true,
    description =
        "When to start in the next three days, when to heat, and how much airing"
            + " cools the mold.",
    footer = {
      "",
      "  layroom plan --material iso-gel-coat --material gp-resin --history room.csv --at"
          + " 2026-03-01T18:00",
      "Without --history, the running dashboard answers for its room.",
    })
final class PlanCommand extends AnswerCommand {
  @Option(
      names = "--material",
      paramLabel = "ID",
      split = ",",
      description = "Material to lay up: one, or gel coat and resin.")
  List<String> ids = new ArrayList<>();

  @Option(
      names = "--material-file",
      paramLabel = "FILE.json",
      description = "Your own material; can be combined with --material.")
  List<Path> files = new ArrayList<>();

  @Mixin RoomHistory history = new RoomHistory();

  @Mixin RoomChoice watched = new RoomChoice();

  @Option(
      names = "--waking",
      paramLabel = "07:00-22:00",
      description = "Hours when someone is in the shop (default: 07:00-22:00).")
  Optional<String> waking = Optional.empty();

  @Option(
      names = "--working-time",
      paramLabel = "30min",
      description = "Time that you need per layer (default: 30min).")
  Optional<String> workingTime = Optional.empty();

  @Option(
      names = "--dose",
      paramLabel = "1.5%",
      description = "The dose, %% by weight (default: the data sheet's).")
  Optional<String> dose = Optional.empty();

  @Option(
      names = "--wanted-mold-temp",
      paramLabel = "20C",
      description = "Mold temperature to heat to (default: 20C).")
  Optional<String> wantedMoldTemp = Optional.empty();

  @Option(
      names = "--air-changes",
      paramLabel = "6",
      description = "Air changes per hour with the fan on or the door open.")
  Optional<String> airChanges = Optional.empty();

  @Option(names = "--vapor", paramLabel = "12", description = "Vapor level now, times clean air.")
  Optional<String> vapor = Optional.empty();

  @Option(
      names = "--vapor-wanted",
      paramLabel = "2",
      description = "Vapor level to air down to, times clean air (default: 2).")
  Optional<String> vaporWanted = Optional.empty();

  @Option(
      names = "--mixing",
      paramLabel = "3",
      description = "Mixing factor: divides the air flow for incomplete mixing (default: 3).")
  Optional<String> mixing = Optional.empty();

  @Override
  Answer answer() throws StartFailure {
    if (history.file.isEmpty()) {
      return fromRoom();
    }
    if (watched.room.isPresent()) {
      throw new RefusedInput(
          new Refusal(
              "room", watched.room.get(), "", "Enter either --room or --history, not both."));
    }
    PlanQuestion.Parsed parsed =
        PlanQuestion.parse(
            materials(),
            typed(PlanQuestion.NAMES),
            history.zone,
            Optional.empty(),
            Calibration::of);
    if (parsed.question().isEmpty()) {
      throw new RefusedInput(parsed.refused());
    }
    RoomHistory.Learned learned = history.learned();
    return PlanAnswer.of(
        parsed.question().get(),
        learned.room().forecast(learned.at(), RoomForecaster.LONGEST),
        learned.room().response(),
        learned.at(),
        learned.warnings());
  }

  private List<MaterialShelf.Entry> materials() {
    List<MaterialShelf.Entry> entries = new ArrayList<>();
    for (String id : ids) {
      MaterialChoice choice = new MaterialChoice();
      choice.id = Optional.of(id);
      entries.add(choice.required());
    }
    for (Path file : files) {
      MaterialChoice choice = new MaterialChoice();
      choice.file = Optional.of(file);
      entries.add(choice.required());
    }
    return entries.isEmpty() ? List.of(new MaterialChoice().required()) : entries;
  }

  private Answer fromRoom() throws StartFailure {
    if (!files.isEmpty()) {
      throw MaterialChoice.notAtDashboard(
          files.get(0), MaterialChoice.PUT_IN_FOLDER + ", or give a recording with --history.");
    }
    Map<String, List<String>> parameters = typed(PlanQuestion.NAMES);
    if (!ids.isEmpty()) {
      parameters.put("material", ids);
    }
    watched.room.ifPresent(name -> parameters.put("room", List.of(name)));
    return watched.client().answer("api/plan", parameters);
  }
}
