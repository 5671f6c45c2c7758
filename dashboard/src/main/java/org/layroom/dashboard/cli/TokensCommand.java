package org.layroom.dashboard.cli;

import java.net.URI;
import java.util.Map;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code layroom tokens}: which programs have a token. */
@Command(
    name = "tokens",
    mixinStandardHelpOptions = true,
    description = "Lists the programs that have a token, and when each last used it.")
final class TokensCommand extends AnswerCommand {
  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Address of the running dashboard (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  @Override
  Answer answer() throws StartFailure {
    return new DashboardClient(url).answer("api/tokens", Map.of());
  }
}
