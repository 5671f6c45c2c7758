package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom revoke-reader}: a reader comes in no more. */
@Command(
    name = "revoke-reader",
    mixinStandardHelpOptions = true,
    description = "Removes a reader's password and ends its connection.",
    footer = {"", "  layroom revoke-reader hub"})
final class RevokeReaderCommand extends AnswerCommand {
  @Parameters(paramLabel = "NAME", description = "1 to 32 lower-case letters, digits and hyphens.")
  String name = "";

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard
        .client()
        .told(
            "api/devices",
            JsonNodeFactory.instance
                .objectNode()
                .put("action", "revoke-reader")
                .put("reader", name));
  }
}
