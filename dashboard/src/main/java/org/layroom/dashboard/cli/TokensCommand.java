package org.layroom.dashboard.cli;

import java.util.Map;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** {@code layroom tokens}: which programs have a token. */
@Command(
    name = "tokens",
    mixinStandardHelpOptions = true,
    description = "Lists the programs that have a token, and when each last used it.")
final class TokensCommand extends AnswerCommand {
  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard.client().answer("api/tokens", Map.of());
  }
}
