package org.layroom.dashboard.fault;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Collections;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.extension.AfterTestExecutionCallback;
import org.junit.jupiter.api.extension.BeforeTestExecutionCallback;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.extension.ParameterContext;
import org.junit.jupiter.api.extension.ParameterResolver;
import org.layroom.testing.Seed;
import org.opentest4j.TestAbortedException;
import org.tinylog.Logger;

/**
 * Gives each test of the campaign its {@link Witness}, and writes the table when all have run:
 * fault, what was promised, what happened. {@code -Dlayroom.faults=full} asks for the full form,
 * {@code -Dlayroom.seed} for the moments of an earlier run.
 */
final class Campaign
    implements ParameterResolver, BeforeTestExecutionCallback, AfterTestExecutionCallback {
  private static final ExtensionContext.Namespace HERE =
      ExtensionContext.Namespace.create(Campaign.class);
  private static final boolean FULL = System.getProperty("layroom.faults", "").equals("full");
  private static final int LONGEST_WORDS = 200;
  private static final String TABLE = "table";
  private static final String WITNESS = "witness";
  private static final String BEGAN = "began";

  @Override
  public boolean supportsParameter(ParameterContext parameter, ExtensionContext context) {
    return parameter.getParameter().getType() == Witness.class;
  }

  @Override
  public Witness resolveParameter(ParameterContext parameter, ExtensionContext context) {
    long seed = Seed.value();
    Logger.info("{}: seed {}", context.getDisplayName(), seed);
    Witness witness = new Witness(FULL, seed);
    context.getStore(HERE).put(WITNESS, witness);
    return witness;
  }

  @Override
  public void beforeTestExecution(ExtensionContext context) {
    context.getStore(HERE).put(BEGAN, System.nanoTime());
  }

  @Override
  public void afterTestExecution(ExtensionContext context) {
    Fault fault = context.getRequiredTestMethod().getAnnotation(Fault.class);
    long began = context.getStore(HERE).getOrDefault(BEGAN, Long.class, System.nanoTime());
    String words =
        Optional.ofNullable(context.getStore(HERE).get(WITNESS, Witness.class))
            .map(Witness::words)
            .orElse("");
    String happened =
        context
            .getExecutionException()
            .map(thrown -> notKept(thrown, words))
            .orElse("kept: " + words);
    table(context)
        .row(
            context.getRequiredTestClass().getSimpleName(),
            "%s | %s | %s (%d s)"
                .formatted(
                    fault.value(),
                    fault.promised(),
                    happened,
                    Duration.ofNanos(System.nanoTime() - began).toSeconds()));
  }

  private static String notKept(Throwable thrown, String words) {
    String said =
        String.valueOf(thrown.getMessage()).lines().findFirst().orElse("").replace("|", "/");
    said = said.substring(0, Math.min(said.length(), LONGEST_WORDS));
    return thrown instanceof TestAbortedException
        ? "left out: " + said
        : "**NOT KEPT**: " + said + (words.isEmpty() ? "" : " (" + words + ")");
  }

  private static Table table(ExtensionContext context) {
    return context
        .getRoot()
        .getStore(HERE)
        .getOrComputeIfAbsent(TABLE, key -> new Table(), Table.class);
  }

  /** The rows of one run; written and printed when the last test is over. */
  private static final class Table implements AutoCloseable {
    private final SortedMap<String, String> rows =
        Collections.synchronizedSortedMap(new TreeMap<>());

    void row(String group, String row) {
      rows.put(group + rows.size(), row);
    }

    @Override
    public void close() {
      StringBuilder text = new StringBuilder("| fault | what was promised | what happened |\n");
      text.append("|---|---|---|\n");
      rows.values().forEach(row -> text.append("| ").append(row).append(" |\n"));
      System.out.println(text);
      try {
        Files.writeString(Path.of("target", "faults.md"), text);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
