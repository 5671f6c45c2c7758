package org.layroom.dashboard.cli;

import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import picocli.CommandLine;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Model.PositionalParamSpec;

/** Commands, options and arguments, as the command line itself knows them. */
final class CommandNames {
  private CommandNames() {}

  static Set<String> all() {
    Set<String> names = new TreeSet<>();
    for (Map.Entry<String, CommandLine> command :
        Layroom.commandLine().getSubcommands().entrySet()) {
      String name = command.getKey();
      names.add("command " + name);
      for (OptionSpec option : command.getValue().getCommandSpec().options()) {
        for (String spelled : option.names()) {
          names.add("option " + name + " " + spelled + takes(option));
        }
      }
      for (PositionalParamSpec argument :
          command.getValue().getCommandSpec().positionalParameters()) {
        names.add("argument " + name + " " + argument.index() + takes(argument));
      }
    }
    return names;
  }

  private static String takes(ArgSpec one) {
    String needed = one.required() ? ", required" : "";
    if (one.arity().max() == 0) {
      return " alone" + needed;
    }
    String many = one.isMultiValue() ? " values" : " value";
    if (one.type().isEnum()) {
      many +=
          Arrays.stream(one.type().getEnumConstants())
              .map(constant -> constant.toString().toLowerCase(Locale.ROOT))
              .collect(Collectors.joining("|", " ", ""));
    }
    return many + needed;
  }
}
