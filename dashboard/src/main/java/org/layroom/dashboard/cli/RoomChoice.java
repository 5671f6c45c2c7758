package org.layroom.dashboard.cli;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.net.URI;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Option;

/** {@code --room} and {@code --url}: a room of the dashboard that runs on this machine. */
final class RoomChoice {
  @Option(names = "--room", paramLabel = "NAME", description = "A room of the running dashboard.")
  Optional<String> room = Optional.empty();

  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Address of the running dashboard (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  /** Asks the running dashboard about the room at a path of its API, or posts a body there. */
  ObjectNode ask(String path, Optional<ObjectNode> body) throws StartFailure {
    Map<String, List<String>> parameters = new LinkedHashMap<>();
    room.ifPresent(name -> parameters.put("room", List.of(name)));
    DashboardClient dashboard = new DashboardClient(url);
    return body.isPresent()
        ? dashboard.post(path, parameters, body.get())
        : dashboard.get(path, parameters);
  }
}
