package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/** What the help and the manual page say of the commands is what the commands are. */
class HelpTest {
  private static final Path MANUAL = Path.of("src", "deb", "layroom.1");

  /** {@code .SS} opens a command's section; {@code .TP} with a bold option follows. */
  private static final Pattern SECTION =
      Pattern.compile("(?ms)^\\.SS layroom (\\S+)$(.*?)(?=^\\.S[SH] |\\z)");

  private static final Pattern OPTION =
      Pattern.compile("(?m)^\\.B[IR]? .*?(\\\\-\\\\-[a-z\\\\-]+)");

  static Stream<CommandLine> commands() {
    return Layroom.commandLine().getSubcommands().values().stream();
  }

  @ParameterizedTest
  @MethodSource("commands")
  void aPercentSignIsPrintedOnce(CommandLine command) {
    String help = command.getUsageMessage(CommandLine.Help.Ansi.OFF);
    assertFalse(help.contains("%%"), help);
    assertFalse(help.contains("${"), help);
  }

  private static Set<String> options(CommandLine command) {
    return command.getCommandSpec().options().stream()
        .filter(option -> !option.usageHelp() && !option.versionHelp() && !option.hidden())
        .map(OptionSpec::longestName)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  @Test
  void theManualPageNamesEveryCommandWithEveryOptionAndNoOther() throws IOException {
    String manual = Files.readString(MANUAL);
    Set<String> told = new TreeSet<>();
    for (Matcher section = SECTION.matcher(manual); section.find(); ) {
      String name = section.group(1).replace("\\-", "-");
      for (Matcher option = OPTION.matcher(section.group(2)); option.find(); ) {
        told.add(name + " " + option.group(1).replace("\\-", "-"));
      }
      told.add(name);
    }
    Set<String> there = new TreeSet<>();
    commands()
        .forEach(
            command -> {
              there.add(command.getCommandName());
              options(command)
                  .forEach(option -> there.add(command.getCommandName() + " " + option));
            });
    assertTrue(there.size() > 100, there.toString());
    assertEquals(String.join("\n", there), String.join("\n", told));
  }
}
