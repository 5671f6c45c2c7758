package org.layroom.device.testing;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** Debian's mosquitto on a free port, with its settings in a folder of the test's own. */
public final class Mosquitto implements AutoCloseable {
  private static final int TRIES = 10;

  private final Path folder;
  private final int port;
  private final List<String> settings;
  private Process process;

  private Mosquitto(Path folder, int port, List<String> settings, Process process) {
    this.folder = folder;
    this.port = port;
    this.settings = settings;
    this.process = process;
  }

  /**
   * Starts a broker. Without mosquitto the test is skipped on a developer's machine and fails in
   * continuous integration.
   *
   * @param settings lines of mosquitto.conf besides the listener's
   */
  public static Mosquitto start(Path folder, String... settings) throws IOException {
    requireInstalled();
    List<String> lines = settings.length == 0 ? List.of("allow_anonymous true") : List.of(settings);
    for (int attempt = 0; attempt < TRIES; attempt++) {
      int port = freePort();
      Process process = launch(folder, port, lines);
      if (running(process)) {
        return new Mosquitto(folder, port, lines, process);
      }
    }
    return fail("mosquitto found no free port in " + TRIES + " attempts");
  }

  private static void requireInstalled() {
    boolean there = program("mosquitto") && program("mosquitto_sub");
    if (!there && System.getenv("CI") != null) {
      fail(
          "mosquitto and mosquitto_sub are needed here: apt-get install mosquitto mosquitto-clients");
    }
    assumeTrue(there, "skipped: install mosquitto and mosquitto-clients to run this test");
  }

  private static boolean program(String name) {
    return Stream.of("/usr/sbin", "/usr/bin", "/usr/local/bin", "/usr/local/sbin")
        .anyMatch(place -> Files.isExecutable(Path.of(place, name)));
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      return socket.getLocalPort();
    }
  }

  private static Process launch(Path folder, int port, List<String> settings) throws IOException {
    Path config = folder.resolve("mosquitto-" + port + ".conf");
    Files.writeString(
        config,
        "listener "
            + port
            + " 127.0.0.1\nlog_dest stderr\nuser root\n"
            + String.join("\n", settings)
            + "\n");
    return new ProcessBuilder(
            "sh", "-c", "PATH=$PATH:/usr/sbin exec mosquitto -c \"$0\"", config.toString())
        .redirectOutput(ProcessBuilder.Redirect.DISCARD)
        .start();
  }

  /** Mosquitto says when it is running; it ends when the port was taken in the meantime. */
  private static boolean running(Process process) throws IOException {
    BufferedReader log =
        new BufferedReader(new InputStreamReader(process.getErrorStream(), StandardCharsets.UTF_8));
    String line = log.readLine();
    while (line != null) {
      if (line.contains(" running")) {
        Thread drain = new Thread(() -> log.lines().forEach(more -> {}), "mosquitto-log");
        drain.setDaemon(true);
        drain.start();
        return true;
      }
      line = log.readLine();
    }
    return false;
  }

  public URI uri() {
    return URI.create("mqtt://127.0.0.1:" + port);
  }

  public int port() {
    return port;
  }

  /** Lets it read its access list again, as a reload of its service does. */
  public void reload() throws IOException, InterruptedException {
    new ProcessBuilder("kill", "-HUP", "" + process.pid()).start().waitFor(10, TimeUnit.SECONDS);
  }

  /** Kills the broker as a power cut would. */
  public void kill() throws InterruptedException {
    process.destroyForcibly();
    process.waitFor(10, TimeUnit.SECONDS);
  }

  /** Starts it again on the same port. */
  public void restart() throws IOException {
    process = launch(folder, port, settings);
    if (!running(process)) {
      fail("mosquitto did not start again on port " + port);
    }
  }

  @Override
  public void close() throws InterruptedException {
    kill();
  }
}
