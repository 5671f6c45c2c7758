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
public record BrokerTrouble(String host, boolean encrypted, Authority authority) {

  /** The words; empty when nothing better is known than the failure's own. */
  public Optional<String> words(Throwable failure) {
    List<Throwable> chain = chain(failure);
    if (any(chain, CertificateExpiredException.class)) {
      return Optional.of(
          "the broker's certificate has expired: make it a new one (or set this machine's clock)");
    }
    if (any(chain, CertificateNotYetValidException.class)) {
      return Optional.of(
          "the broker's certificate is not valid yet by this machine's clock: set the clock;"
              + " it is tried again by itself");
    }
    if (any(chain, CertPathBuilderException.class)) {
      return Optional.of(unknownSigner());
    }
    if (any(chain, CertificateException.class)) {
      return Optional.of(
          "the broker's certificate is not made for the name \""
              + host
              + "\" ("
              + last(chain, CertificateException.class)
              + "): write in broker.uri the name or address that it was made for, or make one for \""
              + host
              + "\"");
    }
    if (any(chain, SSLException.class) || (encrypted && cutOff(chain))) {
      return Optional.of(
          "no encrypted connection came about ("
              + last(chain, IOException.class)
              + "): is this the broker's port for mqtts://, usually 8883?");
    }
    return plain(chain);
  }

  private static boolean cutOff(List<Throwable> chain) {
    return any(chain, EOFException.class)
        || (any(chain, SocketException.class) && !any(chain, ConnectException.class));
  }

  private Optional<String> plain(List<Throwable> chain) {
    if (any(chain, UnknownHostException.class)) {
      return Optional.of("no machine named \"" + host + "\" is known here: check broker.uri");
    }
    if (any(chain, ConnectException.class)) {
      return Optional.of(
          "nobody answers there ("
              + last(chain, ConnectException.class)
              + "); check that the broker runs");
    }
    if (cutOff(chain)) {
      return Optional.of(
          "the broker ended the connection without a word: where its port is for encrypted"
              + " connections write mqtts:// in broker.uri");
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
                    + ": copy the certificate of the broker's own authority to it")
        .orElse(
            "the broker's certificate is not signed by a public authority: name the certificate of"
                + " the authority that signed it in broker.ca-file");
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
