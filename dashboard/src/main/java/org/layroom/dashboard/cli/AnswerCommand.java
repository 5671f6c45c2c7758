package org.layroom.dashboard.cli;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.PrintWriter;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** A command that prints one answer, in words or as JSON, and ends with its exit status. */
abstract class AnswerCommand implements Callable<Integer> {
  /** Answered, whatever the verdict. */
  static final int ANSWERED = 0;

  /** Something went wrong that the input is not to blame for. */
  static final int FAILED = 1;

  /** Refused input, or no number possible. */
  static final int REFUSED = 2;

  private static final JsonMapper JSON = JsonMapper.builder().build();

  @Option(names = "--json", description = "Print the answer as JSON.")
  boolean json;

  @Spec CommandSpec spec = CommandSpec.create();

  /** The answer to what was typed. */
  abstract Answer answer() throws StartFailure;

  /**
   * The options of these names as they were typed: the answer reads them, for HTTP in the same way.
   */
  final Map<String, List<String>> typed(Set<String> names) {
    Map<String, List<String>> fields = new LinkedHashMap<>();
    for (OptionSpec option : spec.commandLine().getParseResult().matchedOptions()) {
      String name = option.longestName().substring("--".length());
      if (names.contains(name)) {
        fields.put(name, option.originalStringValues());
      }
    }
    return fields;
  }

  @Override
  public final Integer call() throws StartFailure {
    Answer answer = answer();
    print(spec.commandLine().getOut(), answer, json);
    return answer.refused() ? REFUSED : ANSWERED;
  }

  static void print(PrintWriter out, Answer answer, boolean json) {
    if (json) {
      out.println(text(answer.json()));
    } else {
      answer.words().forEach(out::println);
    }
    out.flush();
  }

  static String text(JsonNode json) {
    try {
      return JSON.writerWithDefaultPrettyPrinter().writeValueAsString(json);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException(e);
    }
  }
}
