package org.layroom.dashboard.cli;

import java.util.List;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import org.layroom.dashboard.app.Version;
import org.layroom.predictor.limits.Refusal;
import org.tinylog.Logger;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.ParameterException;

/** The command line of the dashboard. */
@Command(
    name = "layroom",
    mixinStandardHelpOptions = true,
    version = "Layroom " + Version.TEXT,
    description =
        "Watches a small fiberglass layup room: is it warm, dry and ventilated enough to mix?",
    subcommands = {
      DemoCommand.class,
      ServeCommand.class,
      MixCommand.class,
      CheckCommand.class,
      CureCommand.class,
      FumesCommand.class,
      CleanAirCommand.class,
      BumpTestCommand.class,
      ForecastCommand.class,
      ExportCommand.class,
      PlanCommand.class,
      ReplayCommand.class,
      BackupCommand.class,
      RestoreCommand.class,
      PairDeviceCommand.class,
      RevokeDeviceCommand.class,
      BrokerFilesCommand.class,
      PairCommand.class,
      PairedCommand.class,
      UnpairCommand.class,
      TokenCommand.class,
      TokensCommand.class,
      RevokeTokenCommand.class,
      PairReaderCommand.class,
      RevokeReaderCommand.class,
      CertificateCommand.class
    })
public final class Layroom {
  private Layroom() {}

  public static void main(String[] args) {
    // The HTTP server logs through jboss-logging, which must be told before it is loaded.
    System.setProperty("org.jboss.logging.provider", "slf4j");
    int status = commandLine().execute(args);
    System.out.flush();
    System.exit(status);
  }

  /** The commands, ready to be given arguments. */
  static CommandLine commandLine() {
    CommandLine line = new CommandLine(new Layroom());
    line.setParameterExceptionHandler(Layroom::refusedParameter);
    line.setExecutionExceptionHandler(
        (exception, command, parsed) -> failed(exception, command, parsed.originalArgs()));
    line.setCaseInsensitiveEnumValuesAllowed(true);
    line.setOptionsCaseInsensitive(false);
    return line;
  }

  private static int refusedParameter(ParameterException exception, String[] args) {
    CommandLine command = exception.getCommandLine();
    String field =
        exception.getArgSpec() == null ? "arguments" : exception.getArgSpec().paramLabel();
    if (exception.getArgSpec() instanceof CommandLine.Model.OptionSpec option) {
      field = option.longestName().replaceFirst("^--", "");
    }
    String value = exception.getValue() == null ? "" : exception.getValue();
    String words = String.valueOf(exception.getMessage());
    return refused(command, List.of(args), List.of(new Refusal(field, value, "", words)));
  }

  private static int failed(Exception exception, CommandLine command, List<String> args) {
    if (exception instanceof RefusedInput refused) {
      return refused(command, args, refused.refusals());
    }
    if (exception instanceof StartFailure) {
      command.getErr().println(exception.getMessage());
      command.getErr().flush();
      return AnswerCommand.FAILED;
    }
    Logger.error(exception, "The command failed");
    return AnswerCommand.FAILED;
  }

  private static int refused(CommandLine command, List<String> args, List<Refusal> refusals) {
    if (args.contains("--json")) {
      AnswerCommand.print(command.getOut(), Answer.refusal(refusals), true);
    }
    for (Refusal refusal : refusals) {
      command.getErr().println(refusal.reason());
    }
    command.getErr().println("See layroom " + help(command) + "--help");
    command.getErr().flush();
    return AnswerCommand.REFUSED;
  }

  private static String help(CommandLine command) {
    return command.getCommandName().equals("layroom") ? "" : command.getCommandName() + " ";
  }
}
