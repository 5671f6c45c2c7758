package org.layroom.device.publishing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.telemetry.Channel;
import org.layroom.device.testing.Mosquitto;

/** Encrypted connections to a real mosquitto, with certificates made by Java's keytool. */
@Timeout(120)
class EncryptedBrokerIT {
  private static final Channel CHANNEL = Channel.of("garage", "bench");
  private static final String STORE_PASSWORD = "only-for-this-test";

  @TempDir Path folder;

  private void keytool(Path store, String... arguments) throws Exception {
    List<String> command =
        new ArrayList<>(
            List.of(Path.of(System.getProperty("java.home"), "bin", "keytool").toString()));
    command.addAll(List.of(arguments));
    command.addAll(List.of("-keystore", store.toString(), "-storetype", "PKCS12", "-storepass"));
    command.add(STORE_PASSWORD);
    Process process =
        new ProcessBuilder(command)
            .redirectErrorStream(true)
            .redirectOutput(ProcessBuilder.Redirect.DISCARD)
            .start();
    assertTrue(process.waitFor(60, TimeUnit.SECONDS));
    assertEquals(0, process.exitValue(), String.join(" ", arguments));
  }

  /** An authority, and a certificate that it has signed for a name or address. */
  private Path authority(String name, String holder) throws Exception {
    Path store = folder.resolve(name + ".p12");
    keytool(
        store, "-genkeypair", "-alias", "ca", "-keyalg", "EC", "-dname", "CN=ca", "-ext", "bc:c");
    keytool(
        store,
        "-genkeypair",
        "-alias",
        "broker",
        "-keyalg",
        "EC",
        "-dname",
        "CN=broker",
        "-signer",
        "ca",
        "-ext",
        "san=" + holder);
    KeyStore keys = KeyStore.getInstance("PKCS12");
    try (InputStream in = Files.newInputStream(store)) {
      keys.load(in, STORE_PASSWORD.toCharArray());
    }
    pem(name + "-ca.pem", "CERTIFICATE", keys.getCertificate("ca").getEncoded());
    pem(name + "-broker.pem", "CERTIFICATE", keys.getCertificate("broker").getEncoded());
    pem(
        name + "-key.pem",
        "PRIVATE KEY",
        keys.getKey("broker", STORE_PASSWORD.toCharArray()).getEncoded());
    return folder.resolve(name + "-ca.pem");
  }

  private void pem(String name, String kind, byte[] content) throws IOException {
    String body = Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(content);
    Files.writeString(
        folder.resolve(name),
        "-----BEGIN " + kind + "-----\n" + body + "\n-----END " + kind + "-----\n");
  }

  private Mosquitto broker(String name) throws IOException {
    return Mosquitto.start(
        folder,
        "allow_anonymous true",
        "certfile " + folder.resolve(name + "-broker.pem"),
        "keyfile " + folder.resolve(name + "-key.pem"));
  }

  private static BrokerAddress address(Mosquitto broker, Optional<Path> caFile) {
    return new BrokerAddress(
        URI.create("mqtts://127.0.0.1:" + broker.port()),
        Optional.of("bench"),
        Optional.empty(),
        caFile);
  }

  @Test
  void aBrokerIsBelievedWhenTheGivenAuthorityHasSignedForItsNameAndNotElse() throws Exception {
    Path authority = authority("house", "ip:127.0.0.1");
    Path another = authority("another", "ip:127.0.0.1");
    try (Mosquitto broker = broker("house")) {
      assertEquals(
          BrokerLink.Trial.IN,
          BrokerLink.tryOnce(address(broker, Optional.of(authority)), CHANNEL, "any"));
      assertThrows(
          IOException.class,
          () -> BrokerLink.tryOnce(address(broker, Optional.of(another)), CHANNEL, "any"));
      assertThrows(
          IOException.class,
          () -> BrokerLink.tryOnce(address(broker, Optional.empty()), CHANNEL, "any"));
    }
    Path elsewhere = authority("elsewhere", "dns:elsewhere.example");
    try (Mosquitto broker = broker("elsewhere")) {
      assertThrows(
          IOException.class,
          () -> BrokerLink.tryOnce(address(broker, Optional.of(elsewhere)), CHANNEL, "any"),
          "signed for another name");
    }
  }

  @Test
  void aFileWithoutACertificateIsSaid() throws IOException {
    Path empty = Files.createFile(folder.resolve("empty.pem"));
    IOException said = assertThrows(IOException.class, () -> TrustedAuthority.sockets(empty));
    assertTrue(String.valueOf(said.getMessage()).contains("holds no certificate"));
    Path rubbish = Files.writeString(folder.resolve("rubbish.pem"), "-----BEGIN CERTIFICATE-----");
    assertThrows(IOException.class, () -> TrustedAuthority.sockets(rubbish));
  }
}
