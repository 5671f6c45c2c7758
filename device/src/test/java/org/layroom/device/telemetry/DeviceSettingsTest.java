package org.layroom.device.telemetry;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What is decided upstairs, as it travels. */
class DeviceSettingsTest {
  private static final Instant NOW = Instant.parse("2026-03-14T19:00:00Z");

  @Test
  void whatIsWrittenIsRead() throws MalformedMessage {
    DeviceSettings settings =
        new DeviceSettings(
            NOW,
            "Kim",
            DeviceSettings.Mode.CHIP,
            20,
            40,
            0.45,
            true,
            Optional.of(
                new DeviceSettings.CleanAir(
                    31_000.5, NOW, OptionalDouble.of(19.5), OptionalDouble.of(48))),
            Optional.of(new DeviceSettings.Job(NOW, NOW.plusSeconds(7200), "Kim", true, false)));
    assertEquals(settings, DeviceSettings.read(settings.write()));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{}",
        "[]",
        "no JSON",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"nose\",\"limits\":{\"eightHourPpm\":20,\"shortTermPpm\":40,\"styreneFactor\":0.45}}",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"chip\",\"limits\":{\"eightHourPpm\":40,\"shortTermPpm\":20,\"styreneFactor\":0.45}}",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"chip\",\"limits\":{\"eightHourPpm\":20,\"shortTermPpm\":40,\"styreneFactor\":0.45},\"cleanAir\":{\"raw\":0,\"taken\":\"2026-03-14T19:00:00Z\"}}"
      })
  void nonsenseIsRefused(String body) {
    assertThrows(MalformedMessage.class, () -> DeviceSettings.read(body.getBytes(UTF_8)));
  }
}
