package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.util.Arrays;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.exposure.AirSample;
import org.layroom.predictor.exposure.ExposureLimit;

/**
 * A bump test as gas detectors have it: a known vapor, an answer in time, a fault without one
 * (common practice). Rise and times are this project's own choice.
 */
class BumpTestTest {
  private static final VaporSensor CHIP =
      VaporSensor.Chip.with(CleanAirReading.of(30_000, WatchedChip.START));

  private static BumpTest.Progress levels(VaporSensor sensor, double before, double... levels) {
    BumpTest test = BumpTest.begun(WatchedChip.START, sensor, before);
    int second = 0;
    for (double level : levels) {
      second += 10;
      test = test.plus(new AirSample(WatchedChip.START.plusSeconds(second), level));
    }
    return test.progress(WatchedChip.START.plusSeconds(second));
  }

  private static BumpResult result(BumpTest.Progress progress) {
    return ((BumpTest.Progress.Through) progress).result();
  }

  @Test
  void aSensorThatRisesThreefoldWithinAMinuteOfTheFirstSignPasses() {
    BumpResult result = result(levels(CHIP, 1, 1, 1, 1, 1.5, 2.4, 3.2, 4));
    assertTrue(result.passed());
    assertEquals(Duration.ofSeconds(20), result.took());
    assertEquals(4, result.highest(), 1e-12);
  }

  @Test
  void oneHighReadingIsNoRise() {
    assertTrue(levels(CHIP, 1, 1, 1, 40, 1, 1) instanceof BumpTest.Progress.Waiting);
    assertTrue(levels(CHIP, 1, 1, 1, 40) instanceof BumpTest.Progress.Waiting);
    assertTrue(result(levels(CHIP, 1, 1, 1, 40, 38)).passed());
  }

  @Test
  void withoutAnAnswerInThreeMinutesItFails() {
    double[] still = new double[19];
    Arrays.fill(still, 1.05);
    assertTrue(levels(CHIP, 1, Arrays.copyOf(still, 18)) instanceof BumpTest.Progress.Waiting);
    assertFalse(result(levels(CHIP, 1, still)).passed());
    BumpTest silent = BumpTest.begun(WatchedChip.START, CHIP, 1);
    assertFalse(result(silent.progress(WatchedChip.START.plusSeconds(181))).passed());
  }

  // A chip that silicone has poisoned to a tenth of its answer: 100 times clean air shows as 1.6.
  @Test
  void aPoisonedChipFails() {
    assertFalse(result(levels(CHIP, 1, 1, 1.4, 1.6, 1.6, 1.6, 1.6, 1.6, 1.6, 1.6)).passed());
  }

  @Test
  void aSensorThatIsSlowBehindABlockedOpeningFails() {
    assertFalse(
        result(levels(CHIP, 1, 1, 1.4, 1.6, 1.8, 2, 2.2, 2.4, 2.6, 2.8, 3.1, 3.2)).passed());
  }

  @Test
  void aDetectorMustReachWhatItsAlarmSoundsAt() {
    VaporSensor pid = new VaporSensor.Pid(ExposureLimit.own(20, 40), 0.45);
    assertTrue(result(levels(pid, 0.5, 1, 30, 60, 90)).passed());
    assertFalse(result(levels(pid, 0.5, 1, 5, 20, 20, 20, 20, 20, 20, 20)).passed());
  }

  @Test
  void readingsFromBeforeTheStartDoNotCount() {
    BumpTest test = BumpTest.begun(WatchedChip.START, CHIP, 1);
    test = test.plus(new AirSample(WatchedChip.START.minusSeconds(10), 50));
    test = test.plus(new AirSample(WatchedChip.START, 50));
    assertTrue(
        test.progress(WatchedChip.START.plusSeconds(1)) instanceof BumpTest.Progress.Waiting);
  }

  @Test
  void itIsRefusedWhereARiseCouldNotBeSeen() {
    WatchedChip calm = WatchedChip.inWorkRoom().level(20 * 60, 1);
    assertEquals(Optional.empty(), BumpTest.refused(calm.watch()));
    assertTrue(BumpTest.refused(WatchedChip.inWorkRoom().watch()).isPresent(), "no reading yet");
    WatchedChip vapor = WatchedChip.inWorkRoom().level(20 * 60, 1).level(5 * 60, 3.4);
    assertTrue(BumpTest.refused(vapor.watch()).orElseThrow().contains("Ventilate first"));
    WatchedChip job = WatchedChip.inWorkRoom().level(20 * 60, 1).job(2, true).level(60, 1);
    assertTrue(BumpTest.refused(job.watch()).orElseThrow().contains("job"));
    WatchedChip silent = WatchedChip.inWorkRoom().level(20 * 60, 1).silence(60);
    assertTrue(BumpTest.refused(silent.watch()).orElseThrow().contains("does not measure"));
  }

  @Test
  void itsReadingsDriveTheAlarmForRealAndCalibrateNothing() {
    WatchedChip chip = WatchedChip.inWorkRoom().level(20 * 60, 1);
    WatchSettings before = chip.watch().settings();
    chip.level(80, 8);
    assertEquals(AirCall.VENTILATE, chip.call());
    assertEquals(AirWarning.Sound.REPEATED, chip.warning().sound());
    assertEquals(before, chip.watch().settings());
  }

  @Test
  void aFailedTestMakesTheAirUnknownAndNeverHidesALeave() {
    WatchedChip chip = WatchedChip.inWorkRoom().level(20 * 60, 1);
    chip.event(new AirEvent.Doubted(chip.now(), Optional.of("It failed its bump test.")));
    assertEquals(AirCall.UNKNOWN, chip.call());
    assertTrue(chip.words().contains("It failed its bump test."), chip.words());
    assertEquals(Optional.empty(), BumpTest.refused(chip.watch()), "it can be tested again");
    chip.level(3 * 60, 20);
    assertEquals(AirCall.LEAVE, chip.call());
    WatchedChip again = WatchedChip.inWorkRoom().level(20 * 60, 1);
    again.event(new AirEvent.Doubted(again.now(), Optional.of("It failed.")));
    again.event(new AirEvent.Doubted(again.now(), Optional.empty()));
    assertEquals(AirCall.OK, again.level(10, 1).call());
  }
}
