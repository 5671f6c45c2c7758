package org.layroom.dashboard.room;

import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.dashboard.broker.BrokerEncryption;
import org.layroom.dashboard.mqtt.LinkTimes;

/**
 * Where the dashboard keeps its data and which broker it uses.
 *
 * @param data folder for store and logins; made when missing
 * @param broker an outside broker; empty for the one inside the dashboard
 * @param embeddedAddress where the broker inside listens; loopback unless the owner says otherwise
 * @param embeddedPort port of the broker inside; 0 takes a free one
 * @param encryption what the broker inside shows; empty for none
 * @param user for an outside broker that asks for one
 * @param passwordFile its first line is the password
 * @param caFile the certificate of who has signed the outside broker's; empty for the public
 *     authorities
 */
public record CoreSettings(
    Path data,
    Optional<URI> broker,
    String embeddedAddress,
    int embeddedPort,
    Optional<BrokerEncryption> encryption,
    Optional<String> user,
    Optional<Path> passwordFile,
    Optional<Path> caFile,
    LinkTimes linkTimes) {
  private static final String LOOPBACK = "127.0.0.1";

  /** The built-in broker. */
  public static CoreSettings embedded(Path data, int port) {
    return embedded(data, LOOPBACK, port);
  }

  /** The built-in broker, at an address that other machines may reach. */
  public static CoreSettings embedded(Path data, String address, int port) {
    return new CoreSettings(
        data,
        Optional.empty(),
        address,
        port,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        LinkTimes.USUAL);
  }

  /** A broker of the shop's own that asks for no password. */
  public static CoreSettings outside(Path data, URI broker) {
    return new CoreSettings(
        data,
        Optional.of(broker),
        LOOPBACK,
        0,
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        Optional.empty(),
        LinkTimes.USUAL);
  }

  public CoreSettings withLogin(String user, Path passwordFile) {
    return new CoreSettings(
        data,
        broker,
        embeddedAddress,
        embeddedPort,
        encryption,
        Optional.of(user),
        Optional.of(passwordFile),
        caFile,
        linkTimes);
  }

  /** An outside broker whose certificate the shop's own authority has signed. */
  public CoreSettings withAuthority(Path certificate) {
    return new CoreSettings(
        data,
        broker,
        embeddedAddress,
        embeddedPort,
        encryption,
        user,
        passwordFile,
        Optional.of(certificate),
        linkTimes);
  }

  public CoreSettings withLinkTimes(LinkTimes times) {
    return new CoreSettings(
        data, broker, embeddedAddress, embeddedPort, encryption, user, passwordFile, caFile, times);
  }

  /** What the broker inside shows to those who connect from outside this machine. */
  public CoreSettings withEncryption(Optional<BrokerEncryption> shown) {
    return new CoreSettings(
        data, broker, embeddedAddress, embeddedPort, shown, user, passwordFile, caFile, linkTimes);
  }
}
