package org.layroom.device.publishing;

import java.io.IOException;
import java.net.ConnectException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketException;
import java.security.cert.Certificate;
import java.security.cert.X509Certificate;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;
import javax.net.ssl.SSLException;
import javax.net.ssl.SSLParameters;
import javax.net.ssl.SSLSocket;

/**
 * One look at the broker without coming in: whether somebody answers, and whether its certificate
 * holds. A device that runs meanwhile is not disturbed.
 *
 * @param line found, none or fault, in words
 * @param well false when the settings cannot work as they stand: waiting does not help
 */
public record BrokerCheck(String line, boolean well) {
  private static final int PATIENCE_MILLIS = 5000;

  /** Looks; takes 10 s at most on the caller's thread. */
  public static BrokerCheck at(BrokerAddress address) {
    try (Socket plain = new Socket()) {
      plain.connect(
          new InetSocketAddress(address.uri().getHost(), address.port()), PATIENCE_MILLIS);
      plain.setSoTimeout(PATIENCE_MILLIS);
      String more = address.isEncrypted() ? certificate(address, plain) : ", not encrypted";
      return new BrokerCheck("found  broker " + address.uri() + more, true);
    } catch (SSLException e) {
      return new BrokerCheck("fault  broker " + address.uri() + ": " + words(address, e), false);
    } catch (IOException e) {
      boolean reached = e instanceof SocketException && !(e instanceof ConnectException);
      return new BrokerCheck(
          (reached ? "fault" : "none ") + "  broker " + address.uri() + ": " + words(address, e),
          !reached);
    } catch (UnusableAuthority e) {
      return new BrokerCheck("fault  broker " + address.uri() + ": " + e.getMessage(), false);
    }
  }

  private static String words(BrokerAddress address, IOException e) {
    Optional<String> words = address.trouble().words(e);
    return words.orElse(e.getMessage() == null ? e.toString() : e.getMessage());
  }

  private static final class UnusableAuthority extends Exception {
    private static final long serialVersionUID = 1L;

    UnusableAuthority(IOException e) {
      super(e.getMessage(), e);
    }
  }

  private static String certificate(BrokerAddress address, Socket plain)
      throws IOException, UnusableAuthority {
    SSLSocket encrypted;
    try {
      encrypted =
          (SSLSocket)
              address
                  .authority()
                  .sockets()
                  .createSocket(plain, address.uri().getHost(), address.port(), true);
    } catch (IOException e) {
      throw new UnusableAuthority(e);
    }
    SSLParameters asked = encrypted.getSSLParameters();
    asked.setEndpointIdentificationAlgorithm("HTTPS"); // looks at the name too
    encrypted.setSSLParameters(asked);
    encrypted.startHandshake();
    Certificate[] shown = encrypted.getSession().getPeerCertificates();
    return shown[0] instanceof X509Certificate own
        ? ", encrypted, certificate valid until "
            + LocalDate.ofInstant(own.getNotAfter().toInstant(), ZoneOffset.UTC)
        : ", encrypted";
  }
}
