package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.exposure.ExposureLimit;

/** When a sensor must prove that it still senses vapor: this project's own choice. */
class SensorProofTest {
  private static final Instant FITTED = Instant.parse("2026-03-02T08:00:00Z");
  private static final VaporSensor CHIP = VaporSensor.Chip.with(CleanAirReading.of(30_000, FITTED));

  private static Instant day(int day) {
    return FITTED.plus(Duration.ofDays(day));
  }

  private static BumpResult test(int day, boolean passed) {
    return new BumpResult(day(day), passed, 1, passed ? 8 : 1.1, Duration.ofSeconds(20));
  }

  @Test
  void aTestIsAskedForAfterThirtyDaysWithoutOneAndWithoutARise() {
    SensorProof fresh = SensorProof.since(FITTED);
    assertEquals(Optional.empty(), fresh.asked(day(29)));
    assertTrue(fresh.asked(day(30)).orElseThrow().contains("30 days"));
    assertEquals(Optional.empty(), fresh.rose(day(20)).asked(day(49)));
    assertTrue(fresh.rose(day(20)).asked(day(50)).isPresent());
    assertEquals(Optional.empty(), fresh.tested(test(40, true)).asked(day(69)));
    assertEquals(Optional.empty(), fresh.asked(day(29)).or(fresh::doubt), "nothing is unknown");
  }

  @Test
  void aFailedTestIsAFaultUntilOneIsPassedOrARiseIsSeen() {
    SensorProof failed = SensorProof.since(FITTED).tested(test(3, false));
    assertTrue(failed.doubt().orElseThrow().contains("failed its bump test"));
    assertEquals(failed.doubt(), failed.asked(day(3)));
    assertEquals(Optional.empty(), failed.tested(test(4, true)).doubt());
    assertEquals(Optional.empty(), failed.rose(day(4)).doubt());
    assertTrue(SensorProof.since(FITTED).rose(day(2)).tested(test(3, false)).doubt().isPresent());
  }

  @Test
  void aCupWithoutARiseMakesTheAirUnknownUntilTheSensorIsProven() {
    SensorProof missed = SensorProof.since(FITTED).tested(test(1, true)).missedARise(day(2));
    assertTrue(missed.doubt().orElseThrow().contains("no rise within 15 min"));
    assertFalse(missed.provenLately(day(2)));
    assertEquals(Optional.empty(), missed.tested(test(3, true)).doubt());
    assertTrue(missed.tested(test(3, true)).provenLately(day(3)));
  }

  @Test
  void aCleanAirReadingThatMovedAndAYearOfAgeAskToo() {
    SensorProof tested = SensorProof.since(FITTED).tested(test(5, true));
    assertTrue(tested.cleanAirMoved(day(6)).asked(day(6)).orElseThrow().contains("clean-air"));
    assertEquals(Optional.empty(), tested.cleanAirMoved(day(4)).asked(day(6)));
    SensorProof old = SensorProof.since(FITTED).tested(test(360, true));
    assertEquals(Optional.empty(), old.asked(day(364)));
    assertTrue(old.asked(day(365)).orElseThrow().contains("a year old"));
    assertEquals(Optional.empty(), old.tested(test(366, true)).asked(day(367)));
  }

  @Test
  void aNewSensorKnowsNothingOfTheOneBeforeAndIsAskedForATestAtOnce() {
    SensorProof fitted = SensorProof.fitted(day(100));
    assertEquals(Optional.empty(), fitted.proven());
    assertEquals(Optional.empty(), fitted.doubt());
    assertTrue(fitted.asked(day(100)).orElseThrow().contains("new sensor"));
    assertEquals(day(100), fitted.heardSince(day(20)).since(), "an old reading comes late");
    assertEquals(Optional.empty(), fitted.tested(test(101, true)).asked(day(102)));
    assertEquals(Optional.empty(), fitted.rose(day(101)).asked(day(102)));
  }

  @Test
  void aRiseAfterACupIsSeenOverTheLowestLevelSince() {
    CupRise cup = CupRise.of(FITTED).level(CHIP, 1.1).level(CHIP, 1.0).level(CHIP, 1.25);
    assertFalse(cup.risen());
    assertTrue(cup.level(CHIP, 1.3).risen());
    assertTrue(CupRise.of(FITTED).level(CHIP, 2.5).risen(), "vapor of the cup before");
    VaporSensor pid = new VaporSensor.Pid(ExposureLimit.own(20, 40), 0.45);
    assertFalse(CupRise.of(FITTED).level(pid, 0).level(pid, 1.5).risen());
    assertTrue(CupRise.of(FITTED).level(pid, 0).level(pid, 2).risen());
  }

  @Test
  void aMissedRiseIsOneThatWasDueAndCouldBeSeen() {
    Instant before = FITTED.plus(Duration.ofMinutes(14));
    Instant after = FITTED.plus(Duration.ofMinutes(15));
    CupRise flat = CupRise.of(FITTED).level(CHIP, 1).level(CHIP, 1.1);
    assertFalse(flat.missed(before));
    assertTrue(flat.missed(after));
    assertFalse(CupRise.of(FITTED).missed(after), "it told nothing at all");
    assertFalse(flat.level(CHIP, 1.5).missed(after));
    assertFalse(flat.predicted(4).missed(after), "so little cannot be seen");
    assertTrue(flat.predicted(4).predicted(40).predicted(6).missed(after));
    assertEquals(OptionalDouble.of(40), flat.predicted(40).predicted(6).predictedPpm());
  }
}
