package org.layroom.dashboard.fault;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Assumptions;

/** The system's own tools, for what only they can break: mounts, limits, network namespaces. */
final class Commands {
  private Commands() {}

  static boolean works(String... command) throws IOException, InterruptedException {
    return run(command).status() == 0;
  }

  /** Runs a command that must end well. */
  static void must(String... command) throws IOException, InterruptedException {
    Ended ended = run(command);
    if (ended.status() != 0) {
      throw new IOException(String.join(" ", command) + ": " + ended.said());
    }
  }

  /**
   * Leaves the test out, with the reason in the table, where the system does not let it; fails it
   * in continuous integration.
   */
  static void canOrLeaveOut(String why, String... command)
      throws IOException, InterruptedException {
    Ended ended = run(command);
    String words = why + " (" + ended.said().strip() + ")";
    if (System.getenv("CI") != null) {
      Assertions.assertEquals(0, ended.status(), words);
    }
    Assumptions.assumeTrue(ended.status() == 0, words);
  }

  /** Runs a command; what it said when it did not end well. */
  static Optional<String> trouble(String... command) throws IOException, InterruptedException {
    Ended ended = run(command);
    return ended.status() == 0 ? Optional.empty() : Optional.of(ended.said().strip());
  }

  private record Ended(int status, String said) {}

  private static Ended run(String... command) throws IOException, InterruptedException {
    Process process;
    try {
      process = new ProcessBuilder(List.of(command)).redirectErrorStream(true).start();
    } catch (IOException e) {
      return new Ended(127, String.valueOf(e.getMessage()));
    }
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (!process.waitFor(2, TimeUnit.MINUTES)) {
      process.destroyForcibly();
      return new Ended(124, "no end");
    }
    return new Ended(process.exitValue(), said);
  }
}
