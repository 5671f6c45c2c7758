package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code layroom pair}: a code for one tablet or phone. */
@Command(
    name = "pair",
    mixinStandardHelpOptions = true,
    description =
        "Shows a code that gives one tablet, phone or computer on the network access. It is"
            + " valid once, for ten minutes.",
    footer = {"", "  layroom pair", "  layroom pair --read-only      for read-only access"})
final class PairCommand extends AnswerCommand {
  @Option(names = "--read-only", description = "The device can see everything and change nothing.")
  boolean readOnly;

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    Role role = readOnly ? Role.READ_ONLY : Role.FULL;
    return dashboard
        .client()
        .told(
            "api/door",
            JsonNodeFactory.instance.objectNode().put("action", "code").put("role", role.id()));
  }
}
