package org.layroom.dashboard.cli;

import java.net.URI;
import picocli.CommandLine.Option;

/** {@code --url}: the dashboard that runs on this machine. */
final class DashboardChoice {
  @Option(
      names = "--url",
      paramLabel = "URL",
      description = "Address of the running dashboard (default: ${DEFAULT-VALUE}).",
      defaultValue = "http://localhost:8080/")
  URI url = URI.create("http://localhost:8080/");

  DashboardClient client() {
    return new DashboardClient(url);
  }
}
