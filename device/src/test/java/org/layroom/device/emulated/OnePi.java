package org.layroom.device.emulated;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.extension.AfterTestExecutionCallback;
import org.junit.jupiter.api.extension.BeforeTestExecutionCallback;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.extension.ExtensionContext.Namespace;
import org.junit.jupiter.api.extension.ParameterContext;
import org.junit.jupiter.api.extension.ParameterResolver;

/**
 * Boots one emulated Pi for all test classes of a run and gives it to their constructors; at the
 * end it prints what was done on it, with the seconds each took.
 */
final class OnePi
    implements ParameterResolver, BeforeTestExecutionCallback, AfterTestExecutionCallback {
  private static final Namespace SPACE = Namespace.create(OnePi.class);
  private static final String STARTED = "started";

  /** The Pi and its table; closed by JUnit after the last class. */
  private static final class Run implements AutoCloseable {
    private final long booting = System.nanoTime();
    private final PiBench bench;
    private final List<String> table = new ArrayList<>();

    Run() {
      try {
        bench = new PiBench();
      } catch (Exception e) {
        throw new IllegalStateException("no emulated Pi: " + e.getMessage(), e);
      }
      row("well", booting, "made, booted, installed, paired and started");
    }

    private void row(String how, long since, String what) {
      table.add(
          "%-6s %4d s  %s".formatted(how, (System.nanoTime() - since) / 1_000_000_000L, what));
    }

    @Override
    public void close() throws Exception {
      row("all", booting, "");
      table.forEach(line -> System.out.println("Emulated Pi: " + line));
      bench.close();
    }
  }

  private static Run run(ExtensionContext context) {
    return context
        .getRoot()
        .getStore(SPACE)
        .getOrComputeIfAbsent(Run.class, key -> new Run(), Run.class);
  }

  @Override
  public boolean supportsParameter(ParameterContext parameter, ExtensionContext context) {
    return parameter.getParameter().getType() == PiBench.class;
  }

  @Override
  public Object resolveParameter(ParameterContext parameter, ExtensionContext context) {
    return run(context).bench;
  }

  @Override
  public void beforeTestExecution(ExtensionContext context) {
    context.getStore(SPACE).put(STARTED, System.nanoTime());
  }

  @Override
  public void afterTestExecution(ExtensionContext context) {
    long started = context.getStore(SPACE).get(STARTED, Long.class);
    String how = context.getExecutionException().isPresent() ? "FAILED" : "well";
    run(context).row(how, started, context.getRequiredTestMethod().getName());
  }
}
