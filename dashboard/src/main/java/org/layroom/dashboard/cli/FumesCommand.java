package org.layroom.dashboard.cli;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.FumesAnswer;
import org.layroom.dashboard.answer.FumesFields;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom fumes}: the air before a layup is started. */
@Command(
    name = "fumes",
    mixinStandardHelpOptions = true,
    description =
        "Estimates the vapor of a layup beforehand; the real figure can be half or"
            + " twice that, or further off.",
    footer = {
      "",
      "  layroom fumes --resin 2kg --styrene 42%% --volume 40m3 --air-changes 6 --working-time"
          + " 30min --gel-time 75min",
      "  layroom fumes --resin 2kg --material gp-resin --mold-temp 18C --volume 40m3 --door"
          + " ajar --working-time 30min",
      "With --room, the running dashboard fills in what it knows about the room."
    })
final class FumesCommand extends AnswerCommand {
  @Mixin MaterialChoice material = new MaterialChoice();

  @Option(names = "--resin", paramLabel = "2kg", description = "Weight of resin to apply.")
  Optional<String> resin = Optional.empty();

  @Option(names = "--styrene", paramLabel = "42%", description = "Styrene content of the resin.")
  Optional<String> styrene = Optional.empty();

  @Option(
      names = "--gel-coat",
      paramLabel = "0.5kg",
      description = "Weight of gel coat applied with it.")
  Optional<String> gelCoat = Optional.empty();

  @Option(
      names = "--gel-coat-styrene",
      paramLabel = "33%",
      description = "Styrene content of the gel coat.")
  Optional<String> gelCoatStyrene = Optional.empty();

  @Option(
      names = "--method",
      paramLabel = "by-hand|not-atomized",
      description = "Brush and roller (default), or a flow coater.")
  Optional<String> method = Optional.empty();

  @Option(names = "--area", paramLabel = "1.5m2", description = "Wet area of the laminate.")
  Optional<String> area = Optional.empty();

  @Option(names = "--volume", paramLabel = "40m3", description = "Volume of the room.")
  Optional<String> volume = Optional.empty();

  @Option(names = "--air-changes", paramLabel = "6", description = "Air changes per hour.")
  Optional<String> airChanges = Optional.empty();

  @Option(
      names = "--fan",
      paramLabel = "300m3/h",
      description = "Instead: the flow printed on the fan; half of it is assumed.")
  Optional<String> fan = Optional.empty();

  @Option(
      names = "--door",
      paramLabel = "shut|ajar|open",
      description = "Instead: assumed from the door: shut, ajar or open.")
  Optional<String> door = Optional.empty();

  @Option(
      names = "--working-time",
      paramLabel = "30min",
      description = "Time from the start until all is applied.")
  Optional<String> workingTime = Optional.empty();

  @Option(
      names = "--gel-time",
      paramLabel = "75min",
      description = "Time from the start until it has gelled; up to 24 h.")
  Optional<String> gelTime = Optional.empty();

  @Option(
      names = "--dose",
      paramLabel = "1.5%",
      description = "Predict the gel time from this material instead of --gel-time.")
  Optional<String> dose = Optional.empty();

  @Option(
      names = "--mold-temp",
      paramLabel = "18C",
      description = "With --material: mold temperature.")
  Optional<String> moldTemp = Optional.empty();

  @Option(
      names = "--mixing",
      paramLabel = "3",
      description =
          "Mixing factor K, 1 to 10: divides the air flow for incomplete mixing (default: 3).")
  Optional<String> mixing = Optional.empty();

  @Option(names = "--air-temp", paramLabel = "25C", description = "Air temperature (default: 20C).")
  Optional<String> airTemp = Optional.empty();

  @Option(
      names = "--near-air",
      paramLabel = "5m3/min",
      description = "Air flow around the work, 1 to 100 m3/min (default: 5).")
  Optional<String> nearAir = Optional.empty();

  @Option(
      names = "--limit",
      paramLabel = "20ppm",
      description = "Your own eight-hour limit, or the id of a limit in the table.")
  Optional<String> limit = Optional.empty();

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    return watched.room.isPresent()
        ? fromRoom()
        : FumesAnswer.of(
            typed(FumesFields.NAMES),
            FumesFields.Known.of(
                material.chosen().map(MaterialShelf.Entry::material), Calibration::of));
  }

  private Answer fromRoom() throws StartFailure {
    Map<String, List<String>> parameters = typed(FumesFields.NAMES);
    material
        .idAtDashboard(MaterialChoice.PUT_IN_FOLDER + ".")
        .ifPresent(id -> parameters.put("material", List.of(id)));
    watched.room.ifPresent(name -> parameters.put("room", List.of(name)));
    return watched.client().answer("api/fumes", parameters);
  }
}
