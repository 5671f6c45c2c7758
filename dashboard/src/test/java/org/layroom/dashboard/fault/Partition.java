package org.layroom.dashboard.fault;

import java.io.IOException;
import java.net.URI;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * A network namespace joined to this machine by one virtual cable (iproute2: {@code ip netns}), for
 * a device that lives somewhere else. Needs root; without it a proxy that stands still takes the
 * cable's place, and the table says so. Addresses are of the block for documentation (RFC 5737), so
 * nobody's network is in the way.
 */
final class Partition implements Cable {
  private static final String HERE = "198.51.100.1";
  private static final String THERE = "198.51.100.2";

  private final String space;
  private final String cable;

  private Partition(String space, String cable) {
    this.space = space;
    this.cable = cable;
  }

  static Cable made(Random random) throws IOException, InterruptedException {
    String number = Long.toString(ProcessHandle.current().pid() % 100_000);
    Partition made = new Partition("layroom-" + number, "lr" + number);
    String inside = made.cable + "i";
    Optional<String> cannot = Commands.trouble("ip", "netns", "add", made.space);
    if (cannot.isPresent()) {
      return new ProxyCable(cannot.get(), random);
    }
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

  @Override
  public String words() {
    return "in a network namespace";
  }

  @Override
  public String brokerAddress() {
    return HERE;
  }

  @Override
  public URI door(URI broker) {
    return broker;
  }

  @Override
  public List<String> start() {
    return List.of("ip", "netns", "exec", space);
  }

  @Override
  public void pullOut() throws IOException, InterruptedException {
    Commands.must("ip", "-n", space, "link", "set", cable + "i", "down");
  }

  @Override
  public void plugIn() throws IOException, InterruptedException {
    Commands.must("ip", "-n", space, "link", "set", cable + "i", "up");
    Commands.must("ip", "link", "set", cable, "up");
  }

  @Override
  public void close() throws IOException, InterruptedException {
    Commands.works("ip", "link", "delete", cable);
    Commands.works("ip", "netns", "delete", space);
  }
}
