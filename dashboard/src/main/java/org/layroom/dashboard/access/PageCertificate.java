package org.layroom.dashboard.access;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyStore;
import java.security.PrivateKey;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.security.cert.X509Certificate;
import java.security.spec.InvalidKeySpecException;
import java.security.spec.PKCS8EncodedKeySpec;
import java.time.Instant;
import java.util.Base64;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.net.ssl.KeyManagerFactory;
import javax.net.ssl.SSLContext;

/** The certificate that the page is served with: PEM (RFC 7468) with a PKCS#8 key, or PKCS#12. */
public final class PageCertificate {
  private static final Pattern KEY =
      Pattern.compile("-----BEGIN ([A-Z ]*)PRIVATE KEY-----([^-]*)-----END");
  private static final List<String> KINDS = List.of("EC", "RSA", "EdDSA");

  private PageCertificate() {}

  /**
   * What a TLS listener needs.
   *
   * @param chain PKCS#12 with key and chain, or PEM with the chain, the house's own first
   * @param key PEM; empty for PKCS#12
   * @param passwordFile the PKCS#12 file's password in its first line
   * @throws IOException when it cannot be used, with what to change
   */
  public static SSLContext read(Path chain, Optional<Path> key, Optional<Path> passwordFile)
      throws IOException {
    try {
      String password = passwordFile.isPresent() ? firstLine(passwordFile.get()) : "";
      KeyStore store = store(chain, key, password);
      KeyManagerFactory keys =
          KeyManagerFactory.getInstance(KeyManagerFactory.getDefaultAlgorithm());
      keys.init(store, key.isPresent() ? new char[0] : password.toCharArray());
      SSLContext context = SSLContext.getInstance("TLS");
      context.init(keys.getKeyManagers(), null, null);
      return context;
    } catch (GeneralSecurityException e) {
      throw new IOException(
          "https.certificate: " + chain + " cannot be used with its key: " + e.getMessage(), e);
    }
  }

  private static KeyStore store(Path chain, Optional<Path> key, String password)
      throws IOException, GeneralSecurityException {
    return key.isPresent() ? fromPem(chain, key.get()) : fromPkcs12(chain, password.toCharArray());
  }

  /** When the certificate ends; empty when it cannot be told. */
  public static Optional<Instant> ends(
      Path chain, Optional<Path> key, Optional<Path> passwordFile) {
    try {
      KeyStore store =
          store(chain, key, passwordFile.isPresent() ? firstLine(passwordFile.get()) : "");
      for (String alias : Collections.list(store.aliases())) {
        if (store.getCertificate(alias) instanceof X509Certificate certificate) {
          return Optional.of(certificate.getNotAfter().toInstant());
        }
      }
      return Optional.empty();
    } catch (IOException | GeneralSecurityException e) {
      return Optional.empty(); // read() says why
    }
  }

  private static String firstLine(Path file) throws IOException {
    return Files.readString(file).lines().findFirst().orElse("");
  }

  private static KeyStore fromPkcs12(Path file, char[] password)
      throws IOException, GeneralSecurityException {
    KeyStore store = KeyStore.getInstance("PKCS12");
    try (InputStream in = Files.newInputStream(file)) {
      store.load(in, password);
    } catch (IOException e) {
      throw new IOException(
          "https.certificate: "
              + file
              + " cannot be read as PKCS#12 with the password in https.password-file; for PEM,"
              + " set https.key",
          e);
    }
    for (String alias : Collections.list(store.aliases())) {
      if (store.isKeyEntry(alias)) {
        return store;
      }
    }
    throw new IOException("https.certificate: no private key in " + file);
  }

  private static KeyStore fromPem(Path chainFile, Path keyFile)
      throws IOException, GeneralSecurityException {
    Certificate[] chain =
        CertificateFactory.getInstance("X.509")
            .generateCertificates(new ByteArrayInputStream(Files.readAllBytes(chainFile)))
            .toArray(Certificate[]::new);
    if (chain.length == 0) {
      throw new IOException("https.certificate: no certificate in " + chainFile);
    }
    PrivateKey key = key(keyFile);
    if (!key.getAlgorithm().equals(chain[0].getPublicKey().getAlgorithm())) {
      throw new IOException("https.key: " + keyFile + " is not the key of " + chainFile);
    }
    KeyStore store = KeyStore.getInstance("PKCS12");
    store.load(null, null);
    store.setKeyEntry("house", key, new char[0], chain);
    return store;
  }

  private static PrivateKey key(Path file) throws IOException, GeneralSecurityException {
    Matcher pem = KEY.matcher(Files.readString(file, StandardCharsets.US_ASCII));
    if (!pem.find()) {
      throw new IOException("https.key: no private key in " + file);
    }
    if (!pem.group(1).isEmpty()) {
      throw new IOException(
          "https.key: "
              + file
              + " is encrypted or in an older form; convert it with: openssl pkcs8 -topk8 -nocrypt"
              + " -in OLD -out NEW");
    }
    PKCS8EncodedKeySpec bytes =
        new PKCS8EncodedKeySpec(Base64.getMimeDecoder().decode(pem.group(2)));
    for (String kind : KINDS) {
      Optional<PrivateKey> key = ofKind(kind, bytes);
      if (key.isPresent()) {
        return key.get();
      }
    }
    throw new IOException("https.key: " + file + " is none of " + String.join(", ", KINDS));
  }

  private static Optional<PrivateKey> ofKind(String kind, PKCS8EncodedKeySpec bytes)
      throws GeneralSecurityException {
    try {
      return Optional.of(KeyFactory.getInstance(kind).generatePrivate(bytes));
    } catch (InvalidKeySpecException e) {
      return Optional.empty();
    }
  }
}
