package org.layroom.dashboard.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Properties;
import java.util.concurrent.Callable;
import org.layroom.dashboard.access.AccessControl;
import org.layroom.dashboard.app.Dashboard;
import org.layroom.dashboard.app.ServiceWatchdog;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.config.InvalidSettings;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.device.pace.RealPace;
import org.layroom.device.supervision.Supervision;
import org.layroom.predictor.limits.Refusal;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** {@code layroom serve}: the dashboard for real rooms. */
@Command(
    name = "serve",
    mixinStandardHelpOptions = true,
    description = "Runs the dashboard: broker (built in or your own), store and page.")
final class ServeCommand implements Callable<Integer> {
  @Option(names = "--config", paramLabel = "FILE", description = "Settings file (properties).")
  Optional<Path> config = Optional.empty();

  @Option(
      names = "--show-codes",
      description = "Also print pairing codes here. Do not use it where this output goes to a log.")
  boolean showCodes;

  @Spec CommandSpec spec = CommandSpec.create();

  @Override
  public Integer call() throws StartFailure {
    Settings settings = settings(config);
    RealPace pace = new RealPace();
    Dashboard running = started(settings, pace);
    PrintWriter out = spec.commandLine().getOut();
    out.println("Page: " + running.web().uri());
    running.web().houseUris().forEach(place -> out.println("On other devices: " + place));
    out.println("Broker: " + running.core().brokerUri());
    out.println("Data: " + settings.data().toAbsolutePath());
    if (showCodes) {
      showCodes(running.door(), out);
    }
    out.println("Ready");
    out.flush();
    ServiceWatchdog lifeline =
        ServiceWatchdog.start(running.web().uri(), Supervision.ofThisProcess());
    UntilStopped.untilStopped(
        () -> {
          lifeline.close();
          running.close();
          pace.close();
        });
    return AnswerCommand.ANSWERED;
  }

  private static Dashboard started(Settings settings, RealPace pace) throws StartFailure {
    try {
      return Dashboard.start(settings, pace, pace, 1, false);
    } catch (StartFailure | RuntimeException e) {
      pace.close();
      throw e;
    }
  }

  private static void showCodes(AccessControl door, PrintWriter out) {
    door.onCode(
        code -> {
          out.println("Code for one device, which " + code.role().words() + ": " + code.text());
          out.flush();
        });
  }

  /** The settings of a file, or those that hold without one. */
  static Settings settings(Optional<Path> config) throws StartFailure {
    try {
      return config.isPresent()
          ? SettingsFile.read(config.get())
          : SettingsFile.of(new Properties(), Path.of(""));
    } catch (InvalidSettings e) {
      throw new RefusedInput(
          e.problems().stream()
              .map(words -> new Refusal(words.replaceFirst(":.*", ""), "", "", words))
              .toList());
    } catch (IOException e) {
      throw new StartFailure("The settings " + config.orElseThrow() + " cannot be read.", e);
    }
  }
}
