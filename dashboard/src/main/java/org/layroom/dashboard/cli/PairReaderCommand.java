package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom pair-reader}: lets a hub or script listen at the broker. */
@Command(
    name = "pair-reader",
    mixinStandardHelpOptions = true,
    description =
        "Gives a hub, spreadsheet or script a name and a password at the broker, and shows it once. It"
            + " can listen to the readings and the plain values of every room, and say nothing.",
    footer = {"", "  layroom pair-reader hub"})
final class PairReaderCommand extends AnswerCommand {
  @Parameters(paramLabel = "NAME", description = "1 to 32 lower-case letters, digits and hyphens.")
  String name = "";

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    return dashboard
        .client()
        .told(
            "api/devices",
            JsonNodeFactory.instance.objectNode().put("action", "pair-reader").put("reader", name));
  }
}
