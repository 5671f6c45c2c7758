package org.layroom.predictor.verdict;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.Instant;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.fumes.AirSample;
import org.layroom.predictor.verdict.AirState.Kind;

/** Levels of a VOC chip become a state; the thresholds are this project's own choice. */
class AirLevelsTest {
  private static final Instant START = Instant.parse("2026-03-01T18:00:00Z");

  /** A level every 10 s for a number of minutes, each read as the state at the end. */
  private static AirState after(AirLevels levels, int fromMinute, int minutes, double level) {
    return fed(levels, fromMinute, minutes, level)
        .at(START.plusSeconds(60L * (fromMinute + minutes)));
  }

  private static AirLevels fed(AirLevels levels, int fromMinute, int minutes, double level) {
    AirLevels result = levels;
    for (int second = 0; second < minutes * 60; second += 10) {
      Instant time = START.plusSeconds(60L * fromMinute + second);
      result = result.plus(new AirSample(time, level));
    }
    return result;
  }

  @Test
  void nothingMeasuredIsUnknown() {
    assertEquals(Kind.UNKNOWN, AirLevels.none().at(START).kind());
    assertEquals(Kind.UNKNOWN, after(AirLevels.none(), 0, 10, 1.0).kind());
  }

  @Test
  void cleanAirIsOkAfterAQuarterOfAnHour() {
    assertEquals(Kind.OK, after(AirLevels.none(), 0, 15, 1.1).kind());
  }

  @Test
  void aRiseAsksForAiring() {
    assertEquals(Kind.VENTILATE, after(AirLevels.none(), 0, 15, 3.0).kind());
  }

  @Test
  void aBurstIsTakenSeriouslyWithinAMinute() {
    AirLevels clean = fed(AirLevels.none(), 0, 15, 1.0);
    assertEquals(Kind.LEAVE, after(clean, 15, 1, 20).kind());
  }

  @Test
  void aDevicesClockThatIsALittleAheadDoesNotMatter() {
    AirLevels clean = fed(AirLevels.none(), 0, 15, 1.0);
    assertEquals(Kind.OK, clean.at(START.plusSeconds(14 * 60)).kind());
  }

  @Test
  void silenceMakesTheAirUnknownAgain() {
    AirLevels clean = fed(AirLevels.none(), 0, 15, 1.0);
    assertEquals(Kind.OK, clean.at(START.plusSeconds(16 * 60)).kind());
    assertEquals(Kind.UNKNOWN, clean.at(START.plusSeconds(20 * 60)).kind());
  }
}
