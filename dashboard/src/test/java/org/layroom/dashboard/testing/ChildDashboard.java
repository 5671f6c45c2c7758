package org.layroom.dashboard.testing;

import java.io.BufferedReader;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import org.layroom.dashboard.mqtt.LinkTimes;
import org.layroom.dashboard.room.CoreSettings;
import org.layroom.dashboard.room.DashboardCore;

/** A dashboard core in a process of its own, to be killed at any moment. */
public final class ChildDashboard implements AutoCloseable {
  private static final String READY = "ready ";
  private static final int LAST_LINES = 20;

  private final Process process;
  private final URI broker;

  private ChildDashboard(Process process, URI broker) {
    this.process = process;
    this.broker = broker;
  }

  /**
   * Starts the child and waits until it says that it is ready.
   *
   * @param outside broker and password file, when it is not to use the broker inside
   */
  public static ChildDashboard start(Path data, int heapMiB, Optional<Mosquitto> outside)
      throws IOException {
    List<String> command =
        new ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:+UseSerialGC",
                "-XX:TieredStopAtLevel=1",
                "-Xmx" + heapMiB + "m",
                "-cp",
                System.getProperty("java.class.path"),
                ChildDashboard.class.getName(),
                data.toString()));
    if (outside.isPresent()) {
      command.add(outside.get().uri().toString());
      command.add(outside.get().passwordFile().toString());
      command.add(outside.get().user());
    }
    Path log = data.resolveSibling("child.log");
    Process process =
        new ProcessBuilder(command)
            .redirectError(ProcessBuilder.Redirect.appendTo(log.toFile()))
            .start();
    BufferedReader out = process.inputReader(StandardCharsets.UTF_8);
    for (String line = out.readLine(); line != null; line = out.readLine()) {
      if (line.startsWith(READY)) {
        return new ChildDashboard(process, URI.create(line.substring(READY.length())));
      }
    }
    List<String> said = Files.readAllLines(log);
    throw new IOException(
        "the child ended before it was ready: "
            + String.join(" / ", said.subList(Math.max(0, said.size() - LAST_LINES), said.size())));
  }

  public URI broker() {
    return broker;
  }

  public long pid() {
    return process.pid();
  }

  public boolean isAlive() {
    return process.isAlive();
  }

  /** SIGKILL, and wait until it is gone. */
  public void kill() {
    process.destroyForcibly();
    process.onExit().join();
  }

  @Override
  public void close() {
    kill();
  }

  /** The child: data folder, then broker, password file and user if outside. */
  public static void main(String[] args) throws InterruptedException {
    RealTime pace = new RealTime();
    Path data = Path.of(args[0]);
    LinkTimes quick =
        new LinkTimes(
            Duration.ofSeconds(30),
            Duration.ofSeconds(2),
            Duration.ofSeconds(6),
            Duration.ofSeconds(10),
            Duration.ofMillis(250),
            Duration.ofSeconds(1));
    CoreSettings settings =
        args.length == 1
            ? CoreSettings.embedded(data, 0)
            : CoreSettings.outside(data, URI.create(args[1])).withLogin(args[3], Path.of(args[2]));
    DashboardCore core = DashboardCore.start(settings.withLinkTimes(quick), pace, pace);
    System.out.println(READY + core.brokerUri());
    new CountDownLatch(1).await();
  }
}
