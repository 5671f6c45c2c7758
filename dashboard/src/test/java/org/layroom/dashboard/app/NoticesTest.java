package org.layroom.dashboard.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.dashboard.access.LocalAuthority;
import org.layroom.dashboard.access.PageCertificate;
import org.layroom.dashboard.access.device.UnpairedDevices;
import org.layroom.dashboard.config.Settings;
import org.layroom.dashboard.config.SettingsFile;
import org.layroom.dashboard.ingest.IngestCounts;
import org.layroom.dashboard.ingest.Rejection;

/** What the page tells its owner in time. */
class NoticesTest {
  private static final UnpairedDevices NOBODY = new UnpairedDevices(() -> Instant.EPOCH);

  private static IngestCounts nothing() {
    return new IngestCounts(0, 0, 0, 0, Map.of());
  }

  @Test
  void whatIsBeyondTheCapsIsTold(@TempDir Path folder) throws Exception {
    Properties properties = new Properties();
    properties.setProperty("data", folder.toString());
    Settings settings = SettingsFile.of(properties, folder);
    IngestCounts counts = new IngestCounts(9, 2, 0, 0, Map.of(Rejection.TOO_MANY, 7L));
    assertEquals(
        List.of(
            "7 readings were not kept since the start: a device says more than 100 series, or a"
                + " room has more than 50 devices. The log names it."),
        new Notices(settings, List.of(), NOBODY, () -> counts, () -> Instant.EPOCH).words());
  }

  @Test
  void devicesThatWereRefusedAreNamedWithWhatToType(@TempDir Path folder) throws Exception {
    Properties properties = new Properties();
    properties.setProperty("data", folder.toString());
    Settings settings = SettingsFile.of(properties, folder);
    UnpairedDevices unpaired = new UnpairedDevices(() -> Instant.EPOCH);
    Notices notices =
        new Notices(settings, List.of(), unpaired, NoticesTest::nothing, () -> Instant.EPOCH);
    assertEquals(List.of(), notices.words());
    unpaired.refused("", "layroom-shop.bench", "");
    assertEquals(
        List.of(
            "Device bench of room shop was refused: it is not paired. Its readings wait on it. If"
                + " you know it, run on the dashboard's machine: layroom pair-device bench --room"
                + " shop; then run on the device: sudo layroom-device pair"),
        notices.words());
    for (int i = 0; i < 9; i++) {
      unpaired.refused("annex.board-" + i, "", "");
    }
    assertEquals(4, notices.words().size());
    assertEquals(
        "7 more devices were refused because they are not paired.", notices.words().get(3));
  }

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
    return new Notices(settings, List.of(), NOBODY, NoticesTest::nothing, () -> now).words();
  }
}
