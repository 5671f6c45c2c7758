package org.layroom.dashboard.mqtt;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import javax.net.SocketFactory;
import org.layroom.device.encryption.ConnectionProblem;
import org.layroom.device.encryption.TrustedAuthority;

/**
 * Where the broker is and who we are there.
 *
 * @param broker {@code tcp://host:port} or {@code ssl://host:port}; {@code mqtt} and {@code mqtts}
 *     mean the same two; the port may be left out (1883, 8883)
 * @param clientId the same at every start from one data folder: the broker keeps a session by it
 * @param lasting whether the broker keeps the session, and what comes in meanwhile, over a break
 * @param user empty for a broker that asks for none
 * @param passwordFile its first line is the password; read anew at each connect
 * @param authority who must have signed the broker's certificate, where the connection is encrypted
 */
public record LinkSettings(
    URI broker,
    String clientId,
    boolean lasting,
    Optional<String> user,
    Optional<Path> passwordFile,
    TrustedAuthority authority,
    LinkTimes times) {

  /**
   * Checks the settings.
   *
   * @throws IllegalArgumentException when the address cannot be a broker's, or a password stands
   *     without a user
   */
  public LinkSettings {
    serverUri(broker);
    if (clientId.isEmpty() || clientId.length() > 64) {
      throw new IllegalArgumentException("client id must have 1 to 64 characters");
    }
    if (user.isEmpty() && passwordFile.isPresent()) {
      throw new IllegalArgumentException(
          "broker.password-file is set but broker.user is not. Set both, or neither");
    }
    if (authority.file().isPresent() && !serverUri(broker).startsWith("ssl:")) {
      throw new IllegalArgumentException(
          "broker.ca-file needs an encrypted connection: use ssl://HOST:8883 in broker.uri");
    }
  }

  /** The address with its port, as it is told. */
  String serverUri() {
    return serverUri(broker);
  }

  /** The address as the client library wants it: encryption is the sockets' own business. */
  String socketUri() {
    return serverUri().replaceFirst("^ssl:", "tcp:");
  }

  /** Sockets that neither take too much nor talk to whom is not believed. */
  SocketFactory sockets() throws IOException {
    return encrypted() ? new EncryptedSockets(authority.sockets()) : new BoundedSockets();
  }

  /** Words for a connection that did not come about. */
  ConnectionProblem trouble() {
    return new ConnectionProblem(broker.getHost(), encrypted(), authority);
  }

  private boolean encrypted() {
    return serverUri().startsWith("ssl:");
  }

  private static String serverUri(URI broker) {
    String scheme = String.valueOf(broker.getScheme()).toLowerCase(Locale.ROOT);
    boolean plain = scheme.equals("tcp") || scheme.equals("mqtt");
    boolean encrypted = scheme.equals("ssl") || scheme.equals("mqtts");
    if (broker.getHost() == null || !(plain || encrypted)) {
      throw new IllegalArgumentException(
          "broker.uri \"" + broker + "\": use tcp://host:1883 or ssl://host:8883");
    }
    int port = broker.getPort() >= 0 ? broker.getPort() : plain ? 1883 : 8883;
    return (plain ? "tcp://" : "ssl://") + broker.getHost() + ":" + port;
  }
}
