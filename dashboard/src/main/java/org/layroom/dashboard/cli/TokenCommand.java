package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import java.util.List;
import org.layroom.dashboard.access.Role;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code layroom token}: lets a program ask the API. */
@Command(
    name = "token",
    mixinStandardHelpOptions = true,
    description =
        "Makes a token that lets a script, hub or monitor ask the API from elsewhere, and shows it"
            + " once. It is read-only unless you say --full, and lasts until you revoke it.",
    footer = {
      "",
      "  layroom token spreadsheet",
      "  layroom token --full \"start button\"",
      "  layroom token --calendar \"my phone\""
    })
final class TokenCommand extends AnswerCommand {
  @Parameters(paramLabel = "NAME", description = "What the program is called in the list.")
  String name = "";

  @Option(names = "--full", description = "The program can make changes too.")
  boolean full;

  @Option(
      names = "--calendar",
      description =
          "Only for the calendar of a phone or computer: shows the address to subscribe to.")
  boolean calendar;

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  @Override
  Answer answer() throws StartFailure {
    if (full && calendar) {
      throw new RefusedInput(
          List.of(new Refusal("calendar", "", "", "--calendar: leave out --full, or this")));
    }
    Role role = full ? Role.FULL : calendar ? Role.CALENDAR : Role.READ_ONLY;
    return dashboard
        .client()
        .told(
            "api/tokens",
            JsonNodeFactory.instance
                .objectNode()
                .put("action", "make")
                .put("name", name)
                .put("role", role.id()));
  }
}
