package org.layroom.predictor.exposure;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.vapor.VocLevel;

/** Averages of the air against the worked examples of 29 CFR 1910.1000(d). */
class AveragesTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");

  /** One-minute readings of stretches of constant air, from START. */
  private static List<AirSample> minutes(double... minutesThenValue) {
    List<AirSample> samples = new ArrayList<>();
    int minute = 0;
    for (int i = 0; i < minutesThenValue.length; i += 2) {
      for (int k = 0; k < (int) minutesThenValue[i]; k++) {
        samples.add(new AirSample(at(minute++), minutesThenValue[i + 1]));
      }
    }
    return samples;
  }

  private static Instant at(double minute) {
    return START.plusMillis(Math.round(minute * 60_000));
  }

  // 29 CFR 1910.1000(d)(1)(ii), the regulation's own example.
  @Test
  void theRegulationsShiftAverages81Point25() {
    ExposureHistory shift = ExposureHistory.of(minutes(120, 150, 120, 75, 240, 50), at(480));
    AirAverage average = shift.eightHourAverage();
    assertEquals(81.25, average.value(), 1e-9);
    assertEquals(Duration.ofHours(8), average.covered());
    assertFalse(average.atLeast());
  }

  // 29 CFR 1910.1000(d)(2)(ii), the regulation's own example.
  @Test
  void theRegulationsMixtureIs0Point925() {
    assertEquals(
        0.925,
        MixtureLimit.ofLimits(
            List.of(
                new MixtureLimit.Part(500, 1000),
                new MixtureLimit.Part(45, 200),
                new MixtureLimit.Part(40, 200))),
        1e-12);
  }

  // By the regulation's formula: 3 h x 60 ppm / 8 h.
  @Test
  void threeHoursAt60AverageOver8Hours() {
    ExposureHistory shift = ExposureHistory.of(minutes(180, 60, 300, 0), at(480));
    assertEquals(22.5, shift.eightHourAverage().value(), 1e-9);
  }

  // (10 x 150 + 5 x 30) / 15 by hand; blocks of the clock would give 70.
  @Test
  void theShortTermAverageRollsInsteadOfFollowingTheClock() {
    ExposureHistory air = ExposureHistory.of(minutes(10, 20, 10, 150, 40, 30), at(60));
    assertEquals(110.0, air.largestShortTermAverage().orElseThrow().value(), 1e-9);
  }

  @Test
  void constantAirAveragesToItself() {
    ExposureHistory air = ExposureHistory.of(minutes(60, 42), at(60));
    assertEquals(42, air.largestShortTermAverage().orElseThrow().value(), 1e-12);
    RollingAverage rolling = RollingAverage.shortTerm();
    for (AirSample sample : minutes(60, 42)) {
      rolling = rolling.plus(sample);
    }
    assertEquals(42, rolling.at(at(60)).orElseThrow().value(), 1e-12);
  }

  @Test
  void aReadingWeighsByTheTimeThatItStands() {
    RollingAverage rolling = RollingAverage.over(Duration.ofMinutes(2));
    rolling = rolling.plus(new AirSample(at(0), 10));
    rolling = rolling.plus(new AirSample(at(1.5), 50));
    assertEquals(20, rolling.at(at(2)).orElseThrow().value(), 1e-12);
  }

  // By hand: 10, 10, 100, 40 for half a minute each; the 100 counts as 40.
  @Test
  void withoutItsPeakNoReadingCountsForMoreThanTheNextHighest() {
    RollingAverage rolling = RollingAverage.over(Duration.ofMinutes(2));
    double[] values = {10, 10, 100, 40};
    for (int i = 0; i < values.length; i++) {
      rolling = rolling.plus(new AirSample(at(i / 2.0), values[i]));
    }
    assertEquals(40, rolling.at(at(2)).orElseThrow().value(), 1e-12);
    assertEquals(25, rolling.withoutPeak(at(2)).orElseThrow().value(), 1e-12);
    RollingAverage one = RollingAverage.over(Duration.ofMinutes(1)).plus(new AirSample(at(0), 500));
    assertEquals(0, one.withoutPeak(at(1)).orElseThrow().value(), 0, "one reading alone");
  }

  @Test
  void aWindowUnder80PercentCoveredHasNoValue() {
    RollingAverage rolling = RollingAverage.shortTerm();
    for (AirSample sample : minutes(12, 5)) {
      rolling = rolling.plus(sample);
    }
    assertTrue(rolling.at(at(11.9)).isEmpty(), "11.9 of 15 min");
    assertEquals(5, rolling.at(at(12)).orElseThrow().value(), 1e-12);
    assertTrue(rolling.at(at(12)).orElseThrow().atLeast());
  }

  @Test
  void aGapOver90SecondsIsMissingAndNeverCleanAir() {
    List<AirSample> samples = minutes(240, 100);
    for (int minute = 300; minute < 480; minute++) {
      samples.add(new AirSample(at(minute), 100));
    }
    AirAverage average = ExposureHistory.of(samples, at(480)).eightHourAverage();
    // 239 min and 180 min of 480 are covered; the minute before the gap is part of the gap.
    assertTrue(average.atLeast());
    assertEquals(Duration.ofMinutes(419), average.covered());
    assertEquals(100 * 419.0 / 480, average.value(), 1e-9);
  }

  @Test
  void aGapOf90SecondsStillCounts() {
    List<AirSample> samples =
        List.of(new AirSample(at(0), 8), new AirSample(at(1.5), 8), new AirSample(at(3), 8));
    AirAverage average = ExposureHistory.of(samples, at(3)).eightHourAverage();
    assertFalse(average.atLeast());
    assertEquals(Duration.ofMinutes(3), average.covered());
  }

  @Test
  void anOldReadingChangesNothing() {
    RollingAverage rolling = RollingAverage.over(Duration.ofMinutes(1));
    rolling = rolling.plus(new AirSample(at(5), 7)).plus(new AirSample(at(1), 900));
    assertEquals(7, rolling.at(at(6)).orElseThrow().value(), 1e-12);
  }

  // An independent count: the plain mean of one-second values, for every second from the 12th
  // minute (80 % of the window) on.
  @Property(tries = 50)
  void theLargestWindowIsTheLargestOfAllSeconds(
      @ForAll @DoubleRange(min = 0, max = 300) double first,
      @ForAll @DoubleRange(min = 0, max = 300) double second,
      @ForAll @DoubleRange(min = 0, max = 300) double third,
      @ForAll @IntRange(min = 1, max = 25) int firstMinutes,
      @ForAll @IntRange(min = 1, max = 25) int secondMinutes) {
    List<AirSample> samples = minutes(firstMinutes, first, secondMinutes, second, 20, third);
    double[] seconds = new double[60 * samples.size()];
    for (int s = 0; s < seconds.length; s++) {
      seconds[s] = samples.get(s / 60).value();
    }
    double largest = 0;
    for (int end = 720; end <= seconds.length; end++) {
      int from = Math.max(0, end - 900);
      double sum = 0;
      for (int s = from; s < end; s++) {
        sum += seconds[s];
      }
      largest = Math.max(largest, sum / (end - from));
    }
    ExposureHistory air = ExposureHistory.of(samples, at(samples.size()));
    assertEquals(largest, air.largestShortTermAverage().orElseThrow().value(), 1e-9);
  }

  // SGP40 data sheet: 870 ticks per doubling (ethanol).
  @Test
  void theLevelDoublesEvery870Ticks() {
    assertEquals(1, VocLevel.timesCleanAir(30_000, 30_000), 0);
    assertEquals(2, VocLevel.timesCleanAir(30_000, 29_130), 1e-12);
    assertEquals(4, VocLevel.timesCleanAir(30_000, 28_260), 1e-12);
    assertEquals(0.5, VocLevel.timesCleanAir(30_000, 30_870), 1e-12);
    assertThrows(IllegalArgumentException.class, () -> VocLevel.timesCleanAir(30_000, 70_000));
    assertThrows(IllegalArgumentException.class, () -> VocLevel.timesCleanAir(-1, 30_000));
  }

  @Test
  void nonsenseIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new AirSample(START, -1));
    assertThrows(IllegalArgumentException.class, () -> new AirSample(START, Double.NaN));
    assertThrows(IllegalArgumentException.class, () -> ExposureHistory.of(List.of(), START));
    assertThrows(
        IllegalArgumentException.class,
        () -> ExposureHistory.of(List.of(new AirSample(at(1), 1)), START));
    assertThrows(IllegalArgumentException.class, () -> RollingAverage.over(Duration.ZERO));
    assertThrows(IllegalArgumentException.class, () -> new MixtureLimit.Part(1, 0));
  }
}
