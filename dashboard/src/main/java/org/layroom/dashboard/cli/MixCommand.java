package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.MixFields;
import org.layroom.dashboard.answer.MixJson;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.calibration.Calibration;
import org.layroom.predictor.cure.TemperatureOutlook;
import org.layroom.predictor.cure.TemperaturePath;
import org.layroom.predictor.limits.Refusal;
import org.layroom.predictor.mix.AgedTemperature;
import org.layroom.predictor.mix.MixTemperatures;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom mix}: dose, cups, working time and stages, typed or for the running room. */
@Command(
    name = "mix",
    mixinStandardHelpOptions = true,
    description = "Catalyst dose, cups, working time and cure stages.",
    footer = {
      "",
      "  layroom mix --material gp-resin --amount 200ml --mold-temp 18C --working-time 15min",
      "  layroom mix --material iso-gel-coat --area 0.8m2 --film 0.5mm --mold-temp 20C --dose"
          + " 1ml/100ml",
      "Without a temperature, the running dashboard answers for its room."
    })
final class MixCommand extends AnswerCommand {
  @Mixin MaterialChoice material = new MaterialChoice();

  @Option(
      names = "--amount",
      paramLabel = "200ml|0.5kg",
      description = "Amount to mix, such as 200ml or 0.5kg.")
  Optional<String> amount = Optional.empty();

  @Option(names = "--area", paramLabel = "0.8m2", description = "Mold area, instead of an amount.")
  Optional<String> area = Optional.empty();

  @Option(names = "--film", paramLabel = "0.5mm", description = "Wet film of gel coat.")
  Optional<String> film = Optional.empty();

  @Option(names = "--mat", paramLabel = "450g/m2", description = "Weight of one layer of mat.")
  Optional<String> mat = Optional.empty();

  @Option(
      names = "--layers",
      paramLabel = "4|4x450g/m2",
      description = "Layers of mat in this pass, with the weight of one if it is not 450 g/m2.")
  Optional<String> layers = Optional.empty();

  @Option(
      names = "--thickness",
      paramLabel = "5mm|2mm-5mm",
      description =
          "Thickness laid in this pass, or from the thinnest to the thickest place: how hot it gets"
              + " and how soon it is hard.")
  Optional<String> thickness = Optional.empty();

  @Option(
      names = "--mold-kind",
      paramLabel = "grp|wood|foam",
      description = "What the mold is made of: fiberglass, wood or foam.")
  Optional<String> moldKind = Optional.empty();

  @Option(
      names = "--resin-to-glass",
      paramLabel = "2.25",
      description = "Resin to glass by weight.")
  Optional<String> resinToGlass = Optional.empty();

  @Option(
      names = "--waste",
      paramLabel = "10%",
      description = "Waste left in cups and brushes, %%.")
  Optional<String> waste = Optional.empty();

  @Option(names = "--mold-temp", paramLabel = "18C", description = "Temperature of the mold.")
  Optional<String> moldTemp = Optional.empty();

  @Option(names = "--resin-temp", paramLabel = "18C", description = "Temperature in the can.")
  Optional<String> resinTemp = Optional.empty();

  @Option(names = "--air-temp", paramLabel = "19C", description = "Temperature of the air.")
  Optional<String> airTemp = Optional.empty();

  @Option(names = "--humidity", paramLabel = "62%", description = "Relative humidity.")
  Optional<String> humidity = Optional.empty();

  @Option(names = "--mold-wet", description = "There is water on the mold.")
  boolean moldWet;

  @Option(
      names = "--temps",
      paramLabel = "FILE.csv",
      description = "File of expected mold temperature from mixing on: time,temperature_degC.")
  Optional<Path> temps = Optional.empty();

  @Option(
      names = "--working-time",
      paramLabel = "15min",
      description = "Working time that you need per cup.")
  Optional<String> workingTime = Optional.empty();

  @Option(
      names = "--dose",
      paramLabel = "1.2%|12ml/kg|1ml/100ml",
      description = "Your own dose instead.")
  Optional<String> dose = Optional.empty();

  @Option(
      names = "--gel-test",
      paramLabel = "cup,20C,1.5%,22min",
      description = "A gel test of this material (cup or layer); can be repeated.")
  List<String> gelTests = new ArrayList<>();

  @Option(
      names = "--outcome",
      paramLabel = "soft,8h,20C",
      description =
          "What became of an earlier part like this one: what was found, how long after mixing and"
              + " the mold's temperature. soft, hard (fingernail), fine, came-out-soft, stuck,"
              + " warped, or a hardness reading: barcol 35,24h,20C. Can be repeated.")
  List<String> outcomes = new ArrayList<>();

  @Option(
      names = "--place",
      paramLabel = "WHERE",
      description = "in-mold, between-layers or last-coat.")
  Optional<String> place = Optional.empty();

  @Option(names = "--syringe-step", paramLabel = "0.1ml", description = "One mark of the syringe.")
  Optional<String> syringeStep = Optional.empty();

  @Option(names = "--pace", paramLabel = "100g", description = "Amount that you apply per minute.")
  Optional<String> pace = Optional.empty();

  @Option(names = "--largest-cup", paramLabel = "1kg", description = "The largest cup you mix.")
  Optional<String> largestCup = Optional.empty();

  @Option(
      names = "--bottle-open",
      paramLabel = "60d",
      description = "How long the catalyst has been open.")
  Optional<String> bottleOpen = Optional.empty();

  @Option(names = "--bottle-undated", description = "The catalyst has no date.")
  boolean bottleUndated;

  @Option(names = "--bottle-expired", description = "The catalyst is past its date.")
  boolean bottleExpired;

  @Option(
      names = "--bottle-test",
      paramLabel = "gelled|failed",
      description = "Last gel test with this bottle.")
  Optional<String> bottleTest = Optional.empty();

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    boolean temperaturesTyped = moldTemp.isPresent() || resinTemp.isPresent() || temps.isPresent();
    if (temperaturesTyped && watched.room.isPresent()) {
      throw new RefusedInput(
          new Refusal(
              "room",
              watched.room.get(),
              "",
              "Enter either --room or the temperatures, not both."));
    }
    if (!temperaturesTyped) {
      return fromRoom();
    }
    MaterialShelf.Entry chosen = material.required();
    Optional<TemperatureOutlook> outlook = outlook();
    MixTemperatures known = MixTemperatures.unknown();
    if (moldTemp.isEmpty() && outlook.isPresent()) {
      known = known.withMold(AgedTemperature.typed(outlook.get().meanUntil(1)));
    }
    return MixJson.of(
        chosen,
        MixFields.parse(
            chosen.material(),
            typed(MixFields.NAMES),
            new MixFields.Known(known, outlook, Optional.empty(), Calibration::of, List.of())));
  }

  private Optional<TemperatureOutlook> outlook() {
    return temps.map(
        file ->
            TemperatureOutlook.of(
                TemperaturePath.of(TemperatureFile.read(file, ZoneOffset.UTC).points())));
  }

  private Answer fromRoom() throws StartFailure {
    Map<String, List<String>> parameters = typed(MixFields.NAMES);
    watched.room.ifPresent(name -> parameters.put("room", List.of(name)));
    return watched.client().answer("api/mix", parameters, material);
  }
}
