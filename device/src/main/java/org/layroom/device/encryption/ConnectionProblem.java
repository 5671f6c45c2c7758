package org.layroom.device.encryption;

import java.io.EOFException;
import java.io.IOException;
import java.net.ConnectException;
import java.net.SocketException;
import java.net.UnknownHostException;
import java.security.cert.CertPathBuilderException;
import java.security.cert.CertificateException;
import java.security.cert.CertificateExpiredException;
import java.security.cert.CertificateNotYetValidException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javax.net.ssl.SSLException;

/**
 * Why a connection to a broker did not come about, in words for whoever wrote its address: what to
 * change, where the failure says enough for that.
 *
 * @param host as written in the address
 * @param encrypted whether the connection was to be encrypted
 * @param authority whose signature was asked for
 */
public record ConnectionProblem(String host, boolean encrypted, TrustedAuthority authority) {

  /** The words; empty when nothing better is known than the failure's own. */
  public Optional<String> words(Throwable failure) {
    List<Throwable> chain = chain(failure);
    if (any(chain, CertificateExpiredException.class)) {
      return Optional.of(
          "the broker's certificate has expired: make a new one (or set this machine's clock)");
    }
    if (any(chain, CertificateNotYetValidException.class)) {
      return Optional.of(
          "the broker's certificate is not valid yet: set this machine's clock; the device"
              + " keeps trying");
    }
    if (any(chain, CertPathBuilderException.class)) {
      return Optional.of(unknownSigner());
    }
    if (any(chain, CertificateException.class)) {
      return Optional.of(
          "the broker's certificate is not valid for the name \""
              + host
              + "\" ("
              + last(chain, CertificateException.class)
              + "): use a name or address of the certificate in broker.uri, or make a"
              + " certificate for \""
              + host
              + "\"");
    }
    if (any(chain, SSLException.class) || (encrypted && cutOff(chain))) {
      return Optional.of(
          "no encrypted connection ("
              + last(chain, IOException.class)
              + "): is this the broker's mqtts:// port, usually 8883?");
    }
    return plain(chain);
  }

  private static boolean cutOff(List<Throwable> chain) {
    return any(chain, EOFException.class)
        || (any(chain, SocketException.class) && !any(chain, ConnectException.class));
  }

  private Optional<String> plain(List<Throwable> chain) {
    if (any(chain, UnknownHostException.class)) {
      return Optional.of("no machine named \"" + host + "\" was found: check broker.uri");
    }
    if (any(chain, ConnectException.class)) {
      return Optional.of(
          "no answer ("
              + last(chain, ConnectException.class)
              + "); check that the broker is running");
    }
    if (cutOff(chain)) {
      return Optional.of(
          "the broker closed the connection: if its port is for encrypted connections, use"
              + " mqtts:// in broker.uri");
    }
    return Optional.empty();
  }

  private String unknownSigner() {
    return authority
        .file()
        .map(
            file ->
                "the broker's certificate is not signed by the authority in "
                    + file
                    + ": copy the certificate of the broker's authority to this file")
        .orElse(
            "the broker's certificate is not signed by a public authority: set broker.ca-file"
                + " to the certificate of the authority that signed it");
  }

  private static List<Throwable> chain(Throwable failure) {
    List<Throwable> chain = new ArrayList<>();
    for (Throwable e = failure; e != null && !chain.contains(e); e = e.getCause()) {
      chain.add(e);
    }
    return chain;
  }

  private static boolean any(List<Throwable> chain, Class<? extends Throwable> kind) {
    return chain.stream().anyMatch(kind::isInstance);
  }

  /** The message of the deepest of a kind, which says most. */
  private static String last(List<Throwable> chain, Class<? extends Throwable> kind) {
    return chain.stream()
        .filter(kind::isInstance)
        .reduce((first, second) -> second)
        .map(e -> String.valueOf(e.getMessage()))
        .orElse("");
  }
}
