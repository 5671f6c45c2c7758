package org.layroom.dashboard.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.stream.Collectors;
import javax.net.ssl.SSLSocket;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.device.DeviceLogins;
import org.layroom.dashboard.broker.ArtemisBroker;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.device.encryption.TrustedAuthority;

/** {@code layroom certificate}: the lines that it prints are the lines that work. */
class CertificateCommandTest {
  @TempDir Path folder = Path.of("");

  private Typed certificate(String settings) throws Exception {
    Path file = Files.writeString(folder.resolve("dashboard.properties"), settings);
    Typed typed = Typed.run("certificate --name layroom.home.arpa --config " + file);
    assertEquals(0, typed.status(), typed.err());
    return typed;
  }

  /** Java's own TLS shakes hands with the broker as a device does that was told one authority. */
  @Test
  void itsLinesWrittenIntoTheSettingsEncryptPageAndBroker() throws Exception {
    String before = "data=data\nbroker.port=1883\n";
    Typed typed = certificate(before);
    String lines =
        typed
            .out()
            .lines()
            .map(String::strip)
            .filter(line -> line.matches("(https|broker\\.certificate).*=.*"))
            .collect(Collectors.joining("\n"));
    Path file = Files.writeString(folder.resolve("after.properties"), before + lines + "\n");
    Settings settings = SettingsFile.read(file);
    assertTrue(settings.house().certificate().isPresent(), lines);
    assertTrue(settings.brokerEncryption().isPresent(), lines);
    assertTrue(typed.out().contains("broker.uri=mqtts://NAME:1883"), typed.out());
    assertTrue(typed.out().contains("broker.ca-file=/etc/layroom/layroom-authority.crt"));
    Path authority = folder.resolve("data/access/layroom-authority.crt");
    assertTrue(typed.out().contains(authority.toString()), typed.out());
    try (ArtemisBroker broker =
        new ArtemisBroker(
            folder.resolve("broker"),
            "127.0.0.1",
            0,
            settings.brokerEncryption(),
            DeviceLogins.of(folder))) {
      broker.start();
      try (SSLSocket device =
          (SSLSocket)
              new TrustedAuthority(Optional.of(authority))
                  .sockets()
                  .createSocket("127.0.0.1", broker.port())) {
        device.startHandshake();
        assertTrue(device.getSession().isValid());
      }
    }
  }

  @Test
  void withAnOutsideBrokerItSpeaksOfThePageOnly() throws Exception {
    String out = certificate("data=data\nbroker.uri=tcp://localhost:1883\n").out();
    assertTrue(out.contains("https.certificate="), out);
    assertFalse(out.contains("broker.certificate"), out);
  }
}
