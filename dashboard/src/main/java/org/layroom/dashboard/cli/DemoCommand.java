package org.layroom.dashboard.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.Optional;
import java.util.concurrent.Callable;
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
        "Broker, an invented simulated shop and the dashboard in one process; page on"
            + " http://localhost:8080.")
final class DemoCommand implements Callable<Integer> {
  private static final double FASTEST = 1000;

  @Option(
      names = "--speed",
      paramLabel = "N",
      defaultValue = "1",
      description = "How many times faster than real time the shop's clock runs, 1 to 1000.")
  double speed = 1;

  @Option(
      names = "--port",
      paramLabel = "PORT",
      defaultValue = "8080",
      description = "Where the page is; 0 takes a free port.")
  int port = 8080;

  @Option(
      names = "--data",
      paramLabel = "DIR",
      description = "Keep the demo's data here; without it they are deleted at the end.")
  Optional<Path> data = Optional.empty();

  @Spec CommandSpec spec = CommandSpec.create();

  @Override
  public Integer call() throws Failure {
    if (!(speed >= 1 && speed <= FASTEST)) {
      throw new Refused(
          new Refusal("speed", String.valueOf(speed), "1 to 1000", "--speed: use 1 to 1000."));
    }
    if (port < 0 || port > 65535) {
      throw new Refused(
          new Refusal("port", String.valueOf(port), "0 to 65535", "--port: use 0 to 65535."));
    }
    try {
      Demo demo = Demo.start(speed, port, data, ZoneId.systemDefault());
      PrintWriter out = spec.commandLine().getOut();
      out.println("An invented shop, simulated: no real room is watched.");
      out.println("Page: " + demo.page().web().uri());
      out.println("Broker: " + demo.page().core().brokerUri());
      out.println("Ready");
      out.flush();
      Running.untilStopped(demo::close);
      return AnswerCommand.ANSWERED;
    } catch (IOException e) {
      throw new Failure("The demo cannot run: " + e.getMessage(), e);
    }
  }
}
