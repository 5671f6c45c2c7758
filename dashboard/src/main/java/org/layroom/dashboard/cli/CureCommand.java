package org.layroom.dashboard.cli;

import java.nio.file.Path;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.CureRecordAnswer;
import org.layroom.dashboard.material.MaterialShelf;
import org.layroom.predictor.limits.Warning;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom cure}: how far a recorded temperature has brought a layup. */
@Command(
    name = "cure",
    mixinStandardHelpOptions = true,
    description =
        "Cure stages for a recorded temperature (time,temperature_degC), from its first row on.")
final class CureCommand extends AnswerCommand {
  @Mixin MaterialChoice material = new MaterialChoice();

  @Option(
      names = "--dose",
      required = true,
      paramLabel = "1.5%",
      converter = QuantityOptions.DosePct.class,
      description = "Catalyst dose as mixed, %% by weight.")
  double dosePct;

  @Option(
      names = "--temps",
      required = true,
      paramLabel = "FILE.csv",
      description = "Recording with columns time and temperature_degC; gaps are interpolated.")
  Path temps = Path.of("");

  @Option(
      names = "--still-wet",
      description = "The layer has not set at the end of the record: say what to do.")
  boolean stillWet;

  @Option(
      names = "--zone",
      paramLabel = "ZONE",
      description = "Time zone of times without an offset (default: UTC).")
  ZoneId zone = ZoneOffset.UTC;

  @Override
  Answer answer() {
    MaterialShelf.Entry chosen = material.required();
    TemperatureFile file = TemperatureFile.read(temps, zone);
    List<Warning> warnings = new ArrayList<>();
    file.bad().forEach(bad -> warnings.add(new Warning("line " + bad.line(), "", "", "" + bad)));
    return CureRecordAnswer.of(chosen, dosePct, file.points(), stillWet, warnings);
  }
}
