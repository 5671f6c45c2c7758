package org.layroom.device.publishing;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;

/**
 * Encrypted connections to a broker whose certificate a given authority has signed, and no other:
 * the house's own, in a PEM file, where there is no public one.
 */
final class TrustedAuthority {
  private TrustedAuthority() {}

  /**
   * Makes the sockets; the file is read anew each time.
   *
   * @throws IOException when the file holds no certificate
   */
  static SSLSocketFactory sockets(Path caFile) throws IOException {
    try (InputStream in = Files.newInputStream(caFile)) {
      Collection<? extends Certificate> authorities =
          CertificateFactory.getInstance("X.509").generateCertificates(in);
      if (authorities.isEmpty()) {
        throw new IOException("broker.ca-file " + caFile + " holds no certificate");
      }
      KeyStore trusted = KeyStore.getInstance(KeyStore.getDefaultType());
      trusted.load(null, null);
      int number = 0;
      for (Certificate authority : authorities) {
        trusted.setCertificateEntry("authority-" + number++, authority);
      }
      TrustManagerFactory trust =
          TrustManagerFactory.getInstance(TrustManagerFactory.getDefaultAlgorithm());
      trust.init(trusted);
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(null, trust.getTrustManagers(), null);
      return context.getSocketFactory();
    } catch (GeneralSecurityException e) {
      throw new IOException("broker.ca-file " + caFile + " cannot be used: " + e.getMessage(), e);
    }
  }
}
