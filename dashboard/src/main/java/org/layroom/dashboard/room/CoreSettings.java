package org.layroom.dashboard.room;

import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.dashboard.mqtt.LinkTimes;

/**
 * Where the dashboard keeps its data and which broker it uses.
 *
 * @param data folder for store, broker journal and outgoing messages; made when missing
 * @param broker an outside broker; empty for the one inside the dashboard
 * @param embeddedPort port of the broker inside, on loopback; 0 takes a free one
 * @param user for an outside broker that asks for one
 * @param passwordFile its first line is the password
 */
public record CoreSettings(
    Path data,
    Optional<URI> broker,
    int embeddedPort,
    Optional<String> user,
    Optional<Path> passwordFile,
    LinkTimes linkTimes) {

  /** The broker inside the dashboard. */
  public static CoreSettings embedded(Path data, int port) {
    return new CoreSettings(
        data, Optional.empty(), port, Optional.empty(), Optional.empty(), LinkTimes.USUAL);
  }

  /** A broker of the shop's own that asks for no password. */
  public static CoreSettings outside(Path data, URI broker) {
    return new CoreSettings(
        data, Optional.of(broker), 0, Optional.empty(), Optional.empty(), LinkTimes.USUAL);
  }

  public CoreSettings withLogin(String user, Path passwordFile) {
    return new CoreSettings(
        data, broker, embeddedPort, Optional.of(user), Optional.of(passwordFile), linkTimes);
  }

  public CoreSettings withLinkTimes(LinkTimes times) {
    return new CoreSettings(data, broker, embeddedPort, user, passwordFile, times);
  }
}
