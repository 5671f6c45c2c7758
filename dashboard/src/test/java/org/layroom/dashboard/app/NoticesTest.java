package org.layroom.dashboard.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.LocalAuthority;
import org.layroom.dashboard.access.PageCertificate;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;

/** What the page tells its owner in time. */
class NoticesTest {
  @Test
  void aCertificateIsToldThirtyDaysBeforeItEnds(@TempDir Path folder) throws Exception {
    LocalAuthority made = LocalAuthority.make(folder.resolve("access"), List.of());
    Properties properties = new Properties();
    properties.setProperty("data", folder.toString());
    properties.setProperty("zone", "UTC");
    properties.setProperty("https.certificate", made.store().toString());
    properties.setProperty("https.password-file", made.passwordFile().toString());
    properties.setProperty("broker.certificate", made.store().toString());
    properties.setProperty("broker.certificate-password-file", made.passwordFile().toString());
    Settings settings = SettingsFile.of(properties, folder);
    Instant end =
        PageCertificate.ends(made.store(), Optional.empty(), Optional.of(made.passwordFile()))
            .orElseThrow();
    assertEquals(List.of(), at(settings, end.minus(Duration.ofDays(31))));
    List<String> words = at(settings, end.minus(Duration.ofDays(29)));
    assertEquals(2, words.size());
    assertTrue(words.get(0).startsWith("The certificate of the page ends on"), words.get(0));
    assertTrue(words.get(1).startsWith("The certificate of the broker ends on"), words.get(1));
    assertTrue(at(settings, end.plusSeconds(1)).get(0).contains("ended on"));
  }

  private static List<String> at(Settings settings, Instant now) {
    return new Notices(settings, List.of(), () -> now).words();
  }
}
