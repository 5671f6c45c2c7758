package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code --room} and {@code --url}: a room of the dashboard that runs on this machine. */
final class RoomChoice {
  @Option(names = "--room", paramLabel = "NAME", description = "A room of the running dashboard.")
  Optional<String> room = Optional.empty();

  @Mixin DashboardChoice dashboard = new DashboardChoice();

  DashboardClient client() {
    return dashboard.client();
  }

  /** Asks the running dashboard about the room at a path of its API, or posts a body there. */
  ObjectNode ask(String path, Optional<ObjectNode> body) throws StartFailure {
    Map<String, List<String>> parameters = new LinkedHashMap<>();
    room.ifPresent(name -> parameters.put("room", List.of(name)));
    return body.isPresent()
        ? client().post(path, parameters, body.get())
        : client().get(path, parameters);
  }
}
