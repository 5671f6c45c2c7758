package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom revoke-token}: a program's token opens nothing any more. */
@Command(
    name = "revoke-token",
    mixinStandardHelpOptions = true,
    description = "Removes the access of a program at once.",
    footer = {"", "  layroom revoke-token spreadsheet"})
final class RevokeTokenCommand extends AnswerCommand {
  @Parameters(paramLabel = "NAME|ID", description = "Its name or id from \"layroom tokens\".")
  String name = "";

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard
        .client()
        .told(
            "api/tokens",
            JsonNodeFactory.instance.objectNode().put("action", "revoke").put("name", name));
  }
}
