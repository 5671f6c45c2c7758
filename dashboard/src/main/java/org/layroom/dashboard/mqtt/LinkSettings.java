package org.layroom.dashboard.mqtt;

import java.net.URI;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;

/**
 * Where the broker is and who we are there.
 *
 * @param broker {@code tcp://host:port} or {@code ssl://host:port}; {@code mqtt} and {@code mqtts}
 *     mean the same two; the port may be left out (1883, 8883)
 * @param clientId the same at every start from one data folder: the broker keeps a session by it
 * @param folder for messages on their way out
 * @param user empty for a broker that asks for none
 * @param passwordFile its first line is the password; read anew at each connect
 */
public record LinkSettings(
    URI broker,
    String clientId,
    Path folder,
    Optional<String> user,
    Optional<Path> passwordFile,
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
          "broker.password-file is set but broker.user is not: set both, or neither");
    }
  }

  /** The address as the client library wants it. */
  String serverUri() {
    return serverUri(broker);
  }

  boolean encrypted() {
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
