package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom unpair}: removes a paired device's access, also while its page is open. */
@Command(
    name = "unpair",
    mixinStandardHelpOptions = true,
    description = "Removes the access of a tablet, phone or computer at once.",
    footer = {"", "  layroom unpair \"old tablet\"", "  layroom unpair 5f1c09ab"})
final class UnpairCommand extends AnswerCommand {
  @Parameters(
      paramLabel = "NAME|ID",
      description = "Its name, or its id from \"layroom paired\" if several have that name.")
  String who = "";

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard
        .client()
        .told(
            "api/door",
            JsonNodeFactory.instance.objectNode().put("action", "revoke").put("id", who));
  }
}
