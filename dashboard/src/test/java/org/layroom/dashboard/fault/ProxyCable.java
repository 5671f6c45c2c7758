package org.layroom.dashboard.fault;

import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** In place of a namespace where none can be made. */
final class ProxyCable implements Cable {
  private final String why;
  private final Random random;
  private final List<BadNetwork> doors = new ArrayList<>();

  ProxyCable(String why, Random random) {
    this.why = why;
    this.random = random;
  }

  @Override
  public String words() {
    return "by a proxy that stands still, no namespace can be made here (" + why + ")";
  }

  @Override
  public String brokerAddress() {
    return "127.0.0.1";
  }

  @Override
  public URI door(URI broker) throws IOException {
    doors.add(new BadNetwork(InetAddress.getLoopbackAddress(), broker, 0, 0, random));
    return doors.get(0).uri();
  }

  @Override
  public List<String> start() {
    return List.of();
  }

  @Override
  public void pullOut() {
    doors.forEach(BadNetwork::pullOut);
  }

  @Override
  public void plugIn() {
    doors.forEach(BadNetwork::plugIn);
  }

  @Override
  public void close() throws IOException {
    for (BadNetwork door : doors) {
      door.close();
    }
  }
}
