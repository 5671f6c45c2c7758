package org.layroom.dashboard.cli;

import java.net.URI;
import java.util.Optional;
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
}
