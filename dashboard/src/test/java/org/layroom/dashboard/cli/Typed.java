package org.layroom.dashboard.cli;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import picocli.CommandLine;

/** What came of one typed command, run in this process. */
record Typed(int status, String out, String err) {

  static Typed run(String line) {
    return run(List.of(line.split(" ")));
  }

  static Typed run(List<String> words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine command = Layroom.commandLine();
    command.setOut(new PrintWriter(out, true));
    command.setErr(new PrintWriter(err, true));
    int status = command.execute(words.toArray(String[]::new));
    return new Typed(status, out.toString(), err.toString());
  }
}
