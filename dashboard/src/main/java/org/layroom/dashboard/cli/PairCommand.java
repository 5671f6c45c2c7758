package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.net.URI;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.door.Role;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** {@code layroom pair}: a code for one tablet or phone. */
@Command(
    name = "pair",
    mixinStandardHelpOptions = true,
    description =
        "Shows a code that lets one tablet, phone or computer elsewhere in the house in. It holds"
            + " for ten minutes, once.",
    footer = {"", "  layroom pair", "  layroom pair --read-only      for somebody who only looks"})
final class PairCommand extends AnswerCommand {
  @Option(names = "--read-only", description = "It may look at everything and change nothing.")
  boolean readOnly;

  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Where the running dashboard is (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  @Override
  Answer answer() throws Failure {
    Role role = readOnly ? Role.READ_ONLY : Role.FULL;
    return new RunningDashboard(url)
        .told(
            "api/door",
            JsonNodeFactory.instance.objectNode().put("action", "code").put("role", role.id()));
  }
}
