package org.layroom.dashboard.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;

/** The two jars as they are shipped, each started as a process of its own. */
public final class ShippedJars {
  public static final Path DASHBOARD = Path.of("target", "layroom.jar").toAbsolutePath();
  public static final Path DEVICE =
      Path.of("..", "device", "target", "layroom-device.jar").toAbsolutePath().normalize();

  private ShippedJars() {}

  /** A started jar, with what it has said so far. */
  public record Running(Process process, List<String> said) implements AutoCloseable {
    /** What stands behind a beginning in a line that was said before the ready line. */
    public String after(String beginning) {
      return said.stream()
          .filter(line -> line.startsWith(beginning))
          .findFirst()
          .map(line -> line.substring(beginning.length()).strip())
          .orElseThrow(() -> new IllegalStateException("no line " + beginning + " in " + said));
    }

    public void kill() {
      process.destroyForcibly().onExit().join();
    }

    @Override
    public void close() throws InterruptedException {
      process.destroy();
      if (!process.waitFor(2, TimeUnit.MINUTES)) {
        process.destroyForcibly();
      }
    }
  }

  /** Starts a jar and reads its standard output up to a line that begins like this. */
  public static Running start(Path jar, String ready, Path log, String... arguments)
      throws IOException {
    return start(List.of("-XX:+UseSerialGC", "-Xmx192m"), jar, ready, log, arguments);
  }

  /** The same with these flags of Java. */
  static Running start(List<String> flags, Path jar, String ready, Path log, String... arguments)
      throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(flags);
    command.addAll(List.of("-jar", jar.toString()));
    command.addAll(List.of(arguments));
    Process process =
        new ProcessBuilder(command)
            .redirectError(ProcessBuilder.Redirect.appendTo(log.toFile()))
            .start();
    BufferedReader out =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    List<String> said = new ArrayList<>();
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      said.add(line);
      if (line.startsWith(ready)) {
        return new Running(process, List.copyOf(said));
      }
    }
    throw new IOException("the jar ended before it was ready: " + said + ", see " + log);
  }

  /** Java's flags as the package has them, but for the class archive that is made there. */
  static List<String> packagedFlags(Path script) throws IOException {
    String text = Files.readString(script);
    return Pattern.compile("\\s(-X\\S+)")
        .matcher(text.substring(text.indexOf("exec java ")))
        .results()
        .map(flag -> flag.group(1).replaceFirst("\"\\$\\{\\w+:-(\\w+)}\"", "$1"))
        .filter(flag -> !flag.startsWith("-Xshare") && !flag.contains("SharedArchiveFile"))
        .toList();
  }
}
