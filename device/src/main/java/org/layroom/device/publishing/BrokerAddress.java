package org.layroom.device.publishing;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.util.Optional;
import org.layroom.device.encryption.ConnectionProblem;
import org.layroom.device.encryption.TrustedAuthority;

/**
 * Where the broker is and how to log in.
 *
 * @param uri {@code mqtt://host:1883} or {@code mqtts://host:8883} (also {@code tcp}, {@code ssl})
 * @param user empty for a broker that asks for no name
 * @param password where the password is; empty for none
 * @param caFile the certificate, in PEM form, of who has signed the broker's; empty for the public
 *     authorities that Java knows
 */
public record BrokerAddress(
    URI uri, Optional<String> user, Optional<BrokerPassword> password, Optional<Path> caFile) {
  private static final int PLAIN_PORT = 1883;
  private static final int TLS_PORT = 8883;

  /**
   * Checks the address.
   *
   * @throws IllegalArgumentException when the URI names no host or another kind of connection
   */
  public BrokerAddress {
    boolean known = isTls(uri) || "mqtt".equals(uri.getScheme()) || "tcp".equals(uri.getScheme());
    if (!known || uri.getHost() == null) {
      throw new IllegalArgumentException(
          "broker.uri \""
              + uri
              + "\": enter mqtt://HOST:1883, or mqtts://HOST:8883 for an encrypted connection");
    }
    if (user.isEmpty() && password.isPresent()) {
      throw new IllegalArgumentException("broker.password-file needs broker.user");
    }
    if (caFile.isPresent() && !isTls(uri)) {
      throw new IllegalArgumentException(
          "broker.ca-file needs an encrypted connection: use mqtts://HOST:8883 in broker.uri");
    }
  }

  /** A broker without an authority of its own. */
  public BrokerAddress(URI uri, Optional<String> user, Optional<BrokerPassword> password) {
    this(uri, user, password, Optional.empty());
  }

  /** A broker that asks for no name. */
  public static BrokerAddress of(URI uri) {
    return new BrokerAddress(uri, Optional.empty(), Optional.empty());
  }

  private static boolean isTls(URI uri) {
    return "mqtts".equals(uri.getScheme()) || "ssl".equals(uri.getScheme());
  }

  /** Whose signature an encrypted connection asks for. */
  TrustedAuthority authority() {
    return new TrustedAuthority(caFile);
  }

  /** Words for a connection that did not come about. */
  ConnectionProblem trouble() {
    return new ConnectionProblem(uri.getHost(), isEncrypted(), authority());
  }

  boolean isEncrypted() {
    return isTls(uri);
  }

  /** As written, or the usual one. */
  int port() {
    return uri.getPort() >= 0 ? uri.getPort() : isEncrypted() ? TLS_PORT : PLAIN_PORT;
  }

  /** The address as the MQTT client writes it. */
  String clientUri() {
    return (isEncrypted() ? "ssl://" : "tcp://") + uri.getHost() + ":" + port();
  }

  /** The password now; empty when there is none. */
  Optional<String> currentPassword() throws IOException {
    return password.isPresent() ? Optional.of(password.get().read()) : Optional.empty();
  }
}
