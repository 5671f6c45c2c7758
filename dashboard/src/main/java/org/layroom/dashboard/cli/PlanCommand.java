package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.PlanAnswer;
import org.layroom.dashboard.answer.PlanQuestion;
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
    description = "When to start in the next three days, from when to heat, what airing costs.",
    footer = {
      "",
      "  layroom plan --material iso-gel-coat --material gp-resin --history room.csv --at 2026-03-01T18:00",
      "Without --history the running dashboard's room answers.",
    })
final class PlanCommand extends AnswerCommand {
  @Option(
      names = "--material",
      paramLabel = "ID",
      split = ",",
      description = "What is laid up: one material, or gel coat and resin.")
  List<String> ids = new ArrayList<>();

  @Option(
      names = "--material-file",
      paramLabel = "FILE.json",
      description = "Your own material; may be given beside others.")
  List<Path> files = new ArrayList<>();

  @Mixin RoomHistory history = new RoomHistory();

  @Mixin RoomChoice watched = new RoomChoice();

  @Option(
      names = "--waking",
      paramLabel = "07:00-22:00",
      description = "When someone is there (default: 07:00-22:00).")
  Optional<String> waking = Optional.empty();

  @Option(
      names = "--working-time",
      paramLabel = "30min",
      description = "How long each layer takes you (default: 30min).")
  Optional<String> workingTime = Optional.empty();

  @Option(
      names = "--dose",
      paramLabel = "1.5%",
      description = "The dose, %% by weight (default: the data sheet's).")
  Optional<String> dose = Optional.empty();

  @Option(
      names = "--wanted-mold-temp",
      paramLabel = "20C",
      description = "What heating is to reach (default: 20C).")
  Optional<String> wantedMoldTemp = Optional.empty();

  @Option(
      names = "--air-changes",
      paramLabel = "6",
      description = "Air changes per hour with the fan on or the door open.")
  Optional<String> airChanges = Optional.empty();

  @Option(names = "--vapor", paramLabel = "12", description = "Vapor now, times clean air.")
  Optional<String> vapor = Optional.empty();

  @Option(
      names = "--vapor-wanted",
      paramLabel = "2",
      description = "Vapor at which the room is clear, times clean air (default: 2).")
  Optional<String> vaporWanted = Optional.empty();

  @Option(
      names = "--mixing",
      paramLabel = "3",
      description = "How badly the air mixes: divides the air flow (default: 3).")
  Optional<String> mixing = Optional.empty();

  @Override
  Answer answer() throws Failure {
    if (history.file.isEmpty()) {
      return fromRoom();
    }
    if (watched.room.isPresent()) {
      throw new Refused(
          new Refusal(
              "room", watched.room.get(), "", "Give either --room or --history, not both."));
    }
    PlanQuestion.Parsed parsed =
        PlanQuestion.parse(
            materials(),
            typed(PlanQuestion.NAMES),
            history.zone,
            Optional.empty(),
            Calibration::of);
    if (parsed.question().isEmpty()) {
      throw new Refused(parsed.refused());
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

  private Answer fromRoom() throws Failure {
    if (!files.isEmpty()) {
      throw MaterialChoice.notAtDashboard(
          files.get(0), MaterialChoice.PUT_IN_FOLDER + ", or give a recording with --history.");
    }
    Map<String, List<String>> parameters = typed(PlanQuestion.NAMES);
    if (!ids.isEmpty()) {
      parameters.put("material", ids);
    }
    watched.room.ifPresent(name -> parameters.put("room", List.of(name)));
    return new RunningDashboard(watched.url).answer("api/plan", parameters);
  }
}
