package org.layroom.dashboard.cli;

import java.util.Map;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** {@code layroom paired}: who comes in to the page from elsewhere. */
@Command(
    name = "paired",
    mixinStandardHelpOptions = true,
    description = "Lists the tablets, phones and computers that have access.")
final class PairedCommand extends AnswerCommand {
  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard.client().answer("api/door", Map.of());
  }
}
