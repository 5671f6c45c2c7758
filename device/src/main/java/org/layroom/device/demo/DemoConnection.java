package org.layroom.device.demo;

import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.publishing.BrokerAddress;
import org.layroom.device.publishing.BrokerPassword;
import org.layroom.device.telemetry.Channel;

/**
 * How a demo device is connected.
 *
 * @param broker such as {@code mqtt://localhost:41883}
 * @param password the channel's own, known to this process alone; empty at a broker that asks none
 * @param outboxDirectory made when it is not there; one device at a time
 */
public record DemoConnection(
    URI broker, Channel channel, Optional<String> password, Path outboxDirectory) {

  @Override
  public String toString() {
    return channel.user() + " at " + broker;
  }

  BrokerAddress address() {
    return new BrokerAddress(
        broker, password.map(any -> channel.user()), password.map(BrokerPassword.InMemory::new));
  }
}
