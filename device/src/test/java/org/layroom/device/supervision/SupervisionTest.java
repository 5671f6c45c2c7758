package org.layroom.device.supervision;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What systemd is told, by the words of the manual page {@code sd_notify(3)}. */
class SupervisionTest {
  private final List<List<String>> said = new ArrayList<>();

  @Test
  void underSystemdItTellsOfTheStartAndThatTheWorkGoesOn() {
    Supervision supervision =
        new Supervision(
            Map.of("NOTIFY_SOCKET", "/run/systemd/notify", "WATCHDOG_USEC", "120000000"),
            said::add);
    supervision.ready();
    supervision.alive();
    assertEquals(
        List.of(List.of("systemd-notify", "READY=1"), List.of("systemd-notify", "WATCHDOG=1")),
        said);
  }

  /** {@code sd_watchdog_enabled(3)}: "every half of the time" or more often. */
  @Test
  void itTellsMoreThanTwiceInTheTimeAfterWhichItWouldBeStartedAnew() {
    Map<String, String> environment =
        Map.of("NOTIFY_SOCKET", "@abstract", "WATCHDOG_USEC", "120000000");
    Duration rhythm = new Supervision(environment, said::add).rhythm().orElseThrow();
    assertTrue(rhythm.compareTo(Duration.ofSeconds(60)) < 0, rhythm.toString());
    assertTrue(rhythm.compareTo(Duration.ofSeconds(20)) > 0, rhythm.toString());
  }

  @Test
  void withoutSystemdNothingIsTold() {
    Supervision supervision = new Supervision(Map.of("WATCHDOG_USEC", "120000000"), said::add);
    supervision.ready();
    supervision.alive();
    assertEquals(List.of(), said);
    assertEquals(Optional.empty(), supervision.rhythm());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "0", "-5", "soon", "99999999999999999999", "1"})
  void aTimeThatCannotBeUsedIsNone(String microseconds) {
    Map<String, String> environment =
        Map.of("NOTIFY_SOCKET", "/run/systemd/notify", "WATCHDOG_USEC", microseconds);
    Optional<Duration> rhythm = new Supervision(environment, said::add).rhythm();
    assertTrue(rhythm.isEmpty() || !rhythm.get().isZero(), rhythm.toString());
  }

  @Test
  void aMissingSystemdNotifyStopsNothing() {
    Supervision supervision =
        new Supervision(
            Map.of("NOTIFY_SOCKET", "/run/systemd/notify"),
            command -> {
              throw new IOException("no such program");
            });
    supervision.ready();
    supervision.alive();
  }
}
