package org.layroom.device.telemetry;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.layroom.predictor.vapor.LeaveLevels;

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
            Optional.of(new LeaveLevels(61, 8.5)),
            Optional.of(NOW.minusSeconds(60)),
            Optional.of(new DeviceSettings.Job(NOW, NOW.plusSeconds(7200), "Kim", true, false)),
            List.of(
                new SensorOffset("mold-temperature/hatch", -0.4, LocalDate.of(2026, 3, 14), "Kim"),
                new SensorOffset("humidity", 2.5, LocalDate.of(2026, 3, 13), "Lee")),
            Optional.of("The sensor failed its bump test."));
    assertEquals(settings, DeviceSettings.read(settings.write()));
  }

  @Test
  void aDeviceThatCorrectsSaysSo() throws MalformedMessage {
    DeviceStatus status =
        new DeviceStatus(
            true,
            Optional.of(NOW),
            List.of(),
            List.of(new SensorOffset("temperature", 0.25, LocalDate.of(2026, 3, 14), "")),
            Optional.of(Duration.ofSeconds(150)),
            Optional.of(
                new DeviceStatus.Clock(true, Optional.of(Instant.parse("2026-03-14T17:20:00Z")))));
    assertEquals(status, DeviceStatus.read(status.write()));
  }

  /** The status of version 0.1.0 has no such field; odd values must not refuse the rest. */
  @ParameterizedTest
  @ValueSource(strings = {"", ",\"markWaitSeconds\":0", ",\"markWaitSeconds\":\"long\""})
  void aDeviceThatDoesNotSayHowLongItWaitsIsTakenForOneOfTheFirstVersion(String field)
      throws MalformedMessage {
    String body = "{\"state\":\"online\",\"faults\":[]" + field + "}";
    assertEquals(
        new DeviceStatus(true, Optional.empty(), List.of()),
        DeviceStatus.read(body.getBytes(UTF_8)));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "{}",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"chip\",\"limits\":{\"eightHourPpm\":20,\"shortTermPpm\":40,\"styreneFactor\":0.45},\"offsets\":[{\"series\":\"temperature\",\"amount\":11,\"taken\":\"2026-03-14\"}]}",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"chip\",\"limits\":{\"eightHourPpm\":20,\"shortTermPpm\":40,\"styreneFactor\":0.45},\"offsets\":[{\"series\":\"temperature\",\"amount\":1,\"taken\":\"someday\"}]}",
        "{\"decided\":\"2026-03-14T19:00:00Z\",\"mode\":\"chip\",\"limits\":{\"eightHourPpm\":20,\"shortTermPpm\":40,\"styreneFactor\":0.45},\"offsets\":[{\"series\":\"voc-raw\",\"amount\":1,\"taken\":\"2026-03-14\"}]}",
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
