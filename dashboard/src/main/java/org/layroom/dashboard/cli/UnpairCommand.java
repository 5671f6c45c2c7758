package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.net.URI;
import org.layroom.dashboard.answer.Answer;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom unpair}: somebody does not come in any more, even if they are inside now. */
@Command(
    name = "unpair",
    mixinStandardHelpOptions = true,
    description = "Ends what a tablet, phone or computer was let in for, at once.",
    footer = {"", "  layroom unpair \"old tablet\"", "  layroom unpair 5f1c09ab"})
final class UnpairCommand extends AnswerCommand {
  @Parameters(
      paramLabel = "NAME|ID",
      description = "Its name, or where several have that, its id as \"layroom paired\" shows it.")
  String who = "";

  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Where the running dashboard is (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  @Override
  Answer answer() throws Failure {
    return new RunningDashboard(url)
        .told(
            "api/door",
            JsonNodeFactory.instance.objectNode().put("action", "revoke").put("id", who));
  }
}
