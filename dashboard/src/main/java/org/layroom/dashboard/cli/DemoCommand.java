package org.layroom.dashboard.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.layroom.dashboard.app.Demo;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code layroom demo}: everything in one process, with an invented shop. */
@Command(
    name = "demo",
    mixinStandardHelpOptions = true,
    description =
        "Runs broker, a simulated shop and the dashboard in one process; page on"
            + " http://localhost:8080.")
final class DemoCommand implements Callable<Integer> {
  private static final double FASTEST = 1000;

  @Option(
      names = "--speed",
      paramLabel = "N",
      defaultValue = "1",
      description = "Speed of the shop's clock, 1 to 1000 times real time.")
  double speed = 1;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      defaultValue = "8080",
      description = "Port of the page; 0 for any free port.")
  int port = 8080;

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "Folder for the demo's data; without it the data are deleted at the end.")
  Optional<Path> data = Optional.empty();

  @Spec CommandSpec spec = CommandSpec.create();

  @Override
  public Integer call() throws StartFailure {
    if (!(speed >= 1 && speed <= FASTEST)) {
      throw new RefusedInput(
          new Refusal("speed", String.valueOf(speed), "1 to 1000", "--speed: enter 1 to 1000."));
    }
    if (port < 0 || port > 65535) {
      throw new RefusedInput(
          new Refusal("port", String.valueOf(port), "0 to 65535", "--port: enter 0 to 65535."));
    }
    try {
      Demo demo = Demo.start(speed, port, data, ZoneId.systemDefault());
      PrintWriter out = spec.commandLine().getOut();
      out.println("Demo: simulated shop. No real room is measured.");
      out.println("Page: " + demo.page().web().uri());
      out.println("Broker: " + demo.page().core().brokerUri());
      out.println("Ready");
      out.flush();
      UntilStopped.untilStopped(demo::close);
      return AnswerCommand.ANSWERED;
    } catch (IOException e) {
      throw new StartFailure("The demo cannot run: " + e.getMessage(), e);
    }
  }
}
