package org.layroom.dashboard.access;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.Key;
import java.security.KeyStore;
import java.security.cert.Certificate;
import java.security.cert.CertificateFactory;
import java.security.cert.X509Certificate;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

/** The house's own certificate, made and read back; checked with Java's own X.509. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PageCertificateTest {
  @TempDir static Path folder = Path.of("");

  private LocalAuthority made =
      new LocalAuthority(Path.of(""), Path.of(""), Path.of(""), List.of());

  @BeforeAll
  void make() throws IOException {
    made = LocalAuthority.make(folder.resolve("access"), List.of("layroom.home.arpa", "192.0.2.7"));
  }

  private X509Certificate authority() throws Exception {
    try (InputStream in = Files.newInputStream(made.authority())) {
      return (X509Certificate) CertificateFactory.getInstance("X.509").generateCertificate(in);
    }
  }

  private String password() throws IOException {
    return Files.readString(made.passwordFile()).strip();
  }

  private KeyStore store() throws Exception {
    return KeyStore.getInstance(made.store().toFile(), password().toCharArray());
  }

  @Test
  void itNamesTheHouseAndIsSignedByAnAuthorityWhoseKeyIsGone() throws Exception {
    X509Certificate house = (X509Certificate) store().getCertificate("house");
    house.verify(authority().getPublicKey());
    Set<Object> names =
        house.getSubjectAlternativeNames().stream()
            .map(name -> name.get(1))
            .collect(Collectors.toSet());
    assertEquals(Set.of("layroom.home.arpa", "192.0.2.7", "localhost", "127.0.0.1"), names);
    assertEquals(-1, house.getBasicConstraints(), "it signs nothing itself");
    assertEquals(0, authority().getBasicConstraints());
    assertTrue(store().isKeyEntry("house"));
    assertTrue(store().isCertificateEntry("authority"), "without its key");
    try (Stream<Path> files = Files.list(folder.resolve("access"))) {
      assertEquals(
          Set.of("https.p12", "https-password", "layroom-authority.crt"),
          files.map(file -> file.getFileName().toString()).collect(Collectors.toSet()));
    }
    for (Path file : List.of(made.store(), made.passwordFile())) {
      assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    }
  }

  @Test
  void itIsReadAsPkcs12AndAsPem() throws Exception {
    PageCertificate.read(made.store(), Optional.empty(), Optional.of(made.passwordFile()));
    Path chain = Files.writeString(folder.resolve("house.crt"), chainPem());
    Path key = Files.writeString(folder.resolve("house.key"), pem("PRIVATE KEY", keyBytes()));
    PageCertificate.read(chain, Optional.of(key), Optional.empty());
  }

  private byte[] keyBytes() throws Exception {
    Key key = store().getKey("house", password().toCharArray());
    return key.getEncoded();
  }

  private String chainPem() throws Exception {
    StringBuilder text = new StringBuilder();
    for (Certificate one : store().getCertificateChain("house")) {
      text.append(pem("CERTIFICATE", one.getEncoded()));
    }
    return text.toString();
  }

  private static String pem(String kind, byte[] bytes) {
    return "-----BEGIN %s-----%n%s%n-----END %s-----%n"
        .formatted(kind, Base64.getMimeEncoder().encodeToString(bytes), kind);
  }

  private String refusal(Path chain, Optional<Path> key, Optional<Path> password) {
    return String.valueOf(
        assertThrows(IOException.class, () -> PageCertificate.read(chain, key, password))
            .getMessage());
  }

  @Test
  void whatCannotBeUsedIsRefusedWithWhatToChange() throws Exception {
    Path wrong = Files.writeString(folder.resolve("wrong"), "wrong\n");
    assertTrue(
        refusal(made.store(), Optional.empty(), Optional.of(wrong))
            .contains("https.password-file"));
    Path chain = Files.writeString(folder.resolve("chain.crt"), chainPem());
    Path old = Files.writeString(folder.resolve("old"), pem("EC PRIVATE KEY", keyBytes()));
    assertTrue(refusal(chain, Optional.of(old), Optional.empty()).contains("openssl pkcs8"));
    assertTrue(refusal(chain, Optional.of(wrong), Optional.empty()).contains("no private key"));
    Path garbage = Files.writeString(folder.resolve("garbage"), pem("PRIVATE KEY", new byte[9]));
    assertTrue(refusal(chain, Optional.of(garbage), Optional.empty()).contains("none of"));
  }
}
