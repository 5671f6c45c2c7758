package org.layroom.predictor.verdict;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.vapor.AirEvent;
import org.layroom.predictor.vapor.VaporSensor;
import org.layroom.predictor.vapor.VaporWatch;
import org.layroom.predictor.vapor.WatchSettings;

/** What the warning machine says becomes what the mix check hears. */
class AirStateTest {
  private static final Instant START = Instant.parse("2026-03-01T18:00:00Z");

  private static VaporWatch fed(double level) {
    VaporWatch watch =
        VaporWatch.started(WatchSettings.workRoom(VaporSensor.Chip.elsewhere()), START);
    for (int second = 0; second < 1200; second += 10) {
      watch = watch.plus(new AirEvent.Level(START.plusSeconds(second), level, false));
    }
    return watch;
  }

  @Test
  void eachCallBecomesItsState() {
    assertEquals(AirState.Kind.OK, AirState.of(fed(1)).kind());
    assertEquals(AirState.Kind.VENTILATE, AirState.of(fed(3.2)).kind());
    assertEquals(AirState.Kind.LEAVE, AirState.of(fed(20)).kind());
    VaporWatch blind =
        VaporWatch.started(WatchSettings.workRoom(VaporSensor.Chip.elsewhere()), START);
    assertEquals(AirState.Kind.UNKNOWN, AirState.of(blind).kind());
  }

  @Test
  void theWordsSayThatALevelIsNoStyreneMeasurement() {
    String words = AirState.of(fed(3.5)).words();
    assertTrue(words.contains("3.5 times clean air, not a styrene measurement"), words);
  }
}
