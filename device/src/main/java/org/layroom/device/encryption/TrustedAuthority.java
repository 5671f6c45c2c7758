package org.layroom.device.encryption;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.util.Collection;
import java.util.Optional;
import javax.net.ssl.SSLContext;
import javax.net.ssl.SSLSocketFactory;
import javax.net.ssl.TrustManagerFactory;

/**
 * Who must have signed the certificate of a broker: the house's own authority, whose certificate is
 * in a file, and then no other; or one of the public authorities that Java knows.
 *
 * @param file one or more certificates in PEM form; empty for the public authorities
 */
public record TrustedAuthority(Optional<Path> file) {

  /**
   * Makes the sockets; the file is read anew each time.
   *
   * @throws IOException when the file cannot be read or contains no certificate
   */
  public SSLSocketFactory sockets() throws IOException {
    return file.isPresent()
        ? trusting(file.get())
        : (SSLSocketFactory) SSLSocketFactory.getDefault();
  }

  private static SSLSocketFactory trusting(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      Collection<? extends Certificate> authorities =
          CertificateFactory.getInstance("X.509").generateCertificates(in);
      if (authorities.isEmpty()) {
        throw new IOException("broker.ca-file " + file + " contains no certificate");
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
    } catch (NoSuchFileException e) {
      throw new IOException(
          "broker.ca-file " + file + " does not exist: copy the authority's certificate to it", e);
    } catch (GeneralSecurityException e) {
      throw new IOException(
          "broker.ca-file "
              + file
              + " is not a PEM certificate, which begins with -----BEGIN CERTIFICATE-----",
          e);
    }
  }
}
