package org.layroom.dashboard.fault;

import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.layroom.dashboard.cli.ShippedJars;

/**
 * A network namespace joined to this machine by one virtual cable (iproute2: {@code ip netns}), for
 * a device that lives somewhere else. Needs root; addresses are of the block for documentation (RFC
 * 5737), so nobody's network is in the way.
 */
final class Partition implements AutoCloseable {
  private static final String HERE = "198.51.100.1";
  private static final String THERE = "198.51.100.2";

  private final String space;
  private final String cable;

  private Partition(String space, String cable) {
    this.space = space;
    this.cable = cable;
  }

  static Partition made() throws IOException, InterruptedException {
    String number = Long.toString(ProcessHandle.current().pid() % 100_000);
    Partition made = new Partition("layroom-" + number, "lr" + number);
    String inside = made.cable + "i";
    Commands.canOrLeaveOut("network namespaces need root", "ip", "netns", "add", made.space);
    try {
      Commands.must("ip", "link", "add", made.cable, "type", "veth", "peer", "name", inside);
      Commands.must("ip", "link", "set", inside, "netns", made.space);
      Commands.must("ip", "address", "add", HERE + "/30", "dev", made.cable);
      Commands.must("ip", "-n", made.space, "address", "add", THERE + "/30", "dev", inside);
      Commands.must("ip", "-n", made.space, "link", "set", inside, "up");
      Commands.must("ip", "-n", made.space, "link", "set", "lo", "up");
      made.plugIn();
      return made;
    } catch (IOException e) {
      made.close();
      throw e;
    }
  }

  InetAddress here() throws IOException {
    return InetAddress.getByName(HERE);
  }

  void pullOut() throws IOException, InterruptedException {
    Commands.must("ip", "-n", space, "link", "set", cable + "i", "down");
  }

  void plugIn() throws IOException, InterruptedException {
    Commands.must("ip", "-n", space, "link", "set", cable + "i", "up");
    Commands.must("ip", "link", "set", cable, "up");
  }

  /** The shipped device inside, a hundred samples a second. */
  Process device(URI broker, Path folder) throws IOException {
    Path data = Files.createDirectories(folder.resolve("device"));
    Path config =
        Files.writeString(
            folder.resolve("device.properties"),
            "broker.uri=mqtt://%s:%d\ndata=%s\nsample-seconds=1\nspeed=100\n"
                .formatted(broker.getHost(), broker.getPort(), data));
    return new ProcessBuilder(
            List.of(
                "ip",
                "netns",
                "exec",
                space,
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-jar",
                ShippedJars.DEVICE.toString(),
                "--simulate",
                "--config",
                config.toString()))
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve("device.log").toFile())
        .start();
  }

  @Override
  public void close() throws IOException, InterruptedException {
    Commands.works("ip", "link", "delete", cable);
    Commands.works("ip", "netns", "delete", space);
  }
}
