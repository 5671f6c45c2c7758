package org.layroom.device.startup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.StringReader;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.config.DeviceConfig;
import org.layroom.device.testing.Mosquitto;
import org.layroom.testing.TestAuthority;

/** Pairing typed by a person, over an encrypted connection to a real mosquitto. */
class PairingIT {
  private static final String PASSWORD = "abcde-fghjk-mnpqr-stuvw";

  @TempDir Path folder;

  private Properties settings(String... lines) throws IOException {
    Properties properties = new Properties();
    properties.load(new StringReader(String.join("\n", lines)));
    properties.setProperty("data", folder.resolve("data").toString());
    return properties;
  }

  private static boolean pair(Properties settings, String... typed) throws IOException {
    return new Pairing(
            new BufferedReader(new StringReader(String.join("\n", typed) + "\n")),
            new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8))
        .run(DeviceConfig.toBePaired(settings));
  }

  @Test
  void aPasswordIsOnlySentToABrokerOfTheRightAuthority() throws Exception {
    TestAuthority house = TestAuthority.make(folder, "house", "ip:127.0.0.1");
    TestAuthority another = TestAuthority.make(folder, "another", "ip:127.0.0.1");
    try (Mosquitto broker =
        Mosquitto.start(
            folder,
            "allow_anonymous true",
            "certfile " + house.certificate(),
            "keyfile " + house.key())) {
      String uri = "mqtts://127.0.0.1:" + broker.port();
      Properties wrong = settings("broker.uri=" + uri, "broker.ca-file=" + another.authority());
      IOException said = assertThrows(IOException.class, () -> pair(wrong, "", PASSWORD));
      assertTrue(
          String.valueOf(said.getMessage()).contains("not signed by the authority"), "" + said);
      assertFalse(Files.exists(folder.resolve("data")), "nothing is kept");

      Properties right = settings("broker.uri=" + uri, "broker.ca-file=" + house.authority());
      assertTrue(pair(right, "", PASSWORD));
      DeviceConfig paired = DeviceConfig.of(right);
      assertEquals(URI.create(uri), paired.broker().uri());
      assertEquals(Optional.of(house.authority()), paired.broker().caFile());
      assertTrue(paired.namesBrokerUser());
    }
  }

  @Test
  void anAuthorityWithoutEncryptionIsRefusedWithWhatToWrite() throws IOException {
    Properties plain = settings("broker.uri=mqtt://localhost", "broker.ca-file=ca.pem");
    IllegalArgumentException said =
        assertThrows(IllegalArgumentException.class, () -> DeviceConfig.of(plain));
    assertTrue(String.valueOf(said.getMessage()).contains("mqtts://HOST:8883"), "" + said);
  }
}
