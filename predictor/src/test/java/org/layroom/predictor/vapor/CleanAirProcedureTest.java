package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.vapor.CleanAirProcedure.Progress;
import org.layroom.predictor.vapor.CleanAirProcedure.Promises;

/** A clean-air reading is taken on purpose, in the order that this project chose. */
class CleanAirProcedureTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");
  private static final Promises KEPT = new Promises(true, true, true);

  private static CleanAirProcedure begun(Promises promises, Optional<CleanAirReading> last) {
    return CleanAirProcedure.begun(START, promises, Optional.empty(), last);
  }

  private static CleanAirProcedure fed(
      CleanAirProcedure procedure, int minutes, IntToDoubleFunction ticks) {
    CleanAirProcedure next = procedure;
    for (int second = 0; second <= minutes * 60; second += 10) {
      next =
          next.plus(
              new AirEvent.Ticks(
                  START.plusSeconds(second),
                  ticks.applyAsDouble(second),
                  Optional.of(new AirEvent.Climate(19, 45))));
    }
    return next;
  }

  private static Progress after(CleanAirProcedure procedure, int minutes) {
    return procedure.progress(START.plus(Duration.ofMinutes(minutes)));
  }

  @Test
  void afterAiringAndFiveQuietMinutesItIsTakenWithDateAndConditions() {
    CleanAirProcedure procedure = fed(begun(KEPT, Optional.empty()), 35, second -> 30_000);
    CleanAirReading reading =
        assertInstanceOf(Progress.Taken.class, after(procedure, 35)).reading();
    assertEquals(30_000, reading.ticks(), 0);
    assertEquals(START.plus(Duration.ofMinutes(35)), reading.taken());
    assertEquals(19, reading.temperatureC().orElseThrow(), 0);
    assertEquals(45, reading.humidityPct().orElseThrow(), 0);
  }

  @Test
  void beforeTheRoomIsAiredNothingIsTaken() {
    CleanAirProcedure procedure = fed(begun(KEPT, Optional.empty()), 20, second -> 30_000);
    Progress.Waiting waiting = assertInstanceOf(Progress.Waiting.class, after(procedure, 20));
    assertEquals(Duration.ofMinutes(10), waiting.left());
  }

  @Test
  void aBrokenPromiseIsRefusedWithWhatToChange() {
    Progress open = after(begun(new Promises(true, false, true), Optional.empty()), 60);
    assertTrue(assertInstanceOf(Progress.Refused.class, open).reasons().get(0).contains("can"));
    Progress none = after(begun(new Promises(false, false, false), Optional.empty()), 60);
    assertEquals(3, assertInstanceOf(Progress.Refused.class, none).reasons().size());
  }

  @Test
  void aWanderingSignalIsNotTaken() {
    CleanAirProcedure procedure = fed(begun(KEPT, Optional.empty()), 40, second -> 28_000 + second);
    assertTrue(
        assertInstanceOf(Progress.Waiting.class, after(procedure, 40))
            .words()
            .contains("still changing"));
  }

  @Test
  void aReadingDirtierThanTheLastIsTakenOnlyWhenConfirmed() {
    Optional<CleanAirReading> last = Optional.of(CleanAirReading.of(30_000, START));
    assertInstanceOf(
        Progress.Doubtful.class, after(fed(begun(KEPT, last), 36, second -> 29_600), 36));
    assertInstanceOf(Progress.Taken.class, after(fed(begun(KEPT, last), 36, second -> 29_700), 36));
    assertInstanceOf(Progress.Taken.class, after(fed(begun(KEPT, last), 36, second -> 31_000), 36));
  }

  @Test
  void aChipThatWasJustSwitchedOnSettlesForAnHour() {
    CleanAirProcedure procedure =
        CleanAirProcedure.begun(START, KEPT, Optional.of(START), Optional.empty());
    assertInstanceOf(Progress.Waiting.class, after(fed(procedure, 50, second -> 30_000), 50));
    assertInstanceOf(Progress.Taken.class, after(fed(procedure, 66, second -> 30_000), 66));
  }

  @Test
  void aPauseInTheReadingsStartsTheLookAnew() {
    CleanAirProcedure paused =
        fed(
            begun(KEPT, Optional.empty())
                .plus(
                    new AirEvent.Ticks(
                        START.minusSeconds(600), 30_000, Optional.of(WatchedChip.CLIMATE))),
            31,
            second -> 30_000);
    assertInstanceOf(Progress.Waiting.class, after(paused, 31));
    assertInstanceOf(Progress.Waiting.class, after(fed(paused, 36, second -> 30_000), 45));
  }
}
