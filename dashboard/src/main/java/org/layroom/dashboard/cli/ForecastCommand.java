package org.layroom.dashboard.cli;

import java.time.Duration;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.answer.ForecastAnswer;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom forecast}: what a recorded room will do. */
@Command(
    name = "forecast",
    mixinStandardHelpOptions = true,
    description = "Forecasts the room for the next three days from its recording alone.",
    footer = {
      "",
      "  layroom forecast --history room.csv --at 2026-03-01T18:00 --zone Europe/Paris",
    })
final class ForecastCommand extends AnswerCommand {
  @Mixin RoomHistory history = new RoomHistory();

  @Option(
      names = "--hours",
      paramLabel = "72",
      description = "Hours to forecast, at most 72 (default: 72).",
      defaultValue = "72")
  double hours;

  @Override
  Answer answer() {
    Duration length = RoomHistory.length(hours);
    RoomHistory.Learned learned = history.learned();
    return ForecastAnswer.of(
        learned.room().forecast(learned.at(), length),
        learned.at(),
        learned.zone(),
        learned.warnings());
  }
}
