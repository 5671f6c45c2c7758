package org.layroom.predictor.vapor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.layroom.predictor.exposure.ExposureLimit;

/**
 * What jobs teach of a chip, checked against metal oxides by hand: level {@code (1 + k c)^b},
 * exponents of 0.5 to 0.8 published for tin oxide (from memory), 1 for the data sheet's own law.
 */
class LeaveLevelsTest {
  private static final ExposureLimit LIMIT = ExposureLimit.own(20, 40);

  private static Optional<ChipAnswer> job(double k, double b, double ppm, double predictedTimes) {
    List<ChipAnswer.Minute> minutes = new ArrayList<>();
    for (int minute = 1; minute <= 60; minute++) {
      double now = ppm * Math.min(1, minute / 30.0);
      minutes.add(new ChipAnswer.Minute(Math.pow(1 + k * now, b), predictedTimes * now));
    }
    return ChipAnswer.ofJob(minutes);
  }

  // NIOSH: immediately dangerous at 700 ppm, of which half; ten times the limit where that is
  // lower.
  @Test
  void dangerIsTenTimesTheLimitOrHalfOfImmediatelyDangerous() {
    assertEquals(200, LeaveLevels.dangerPpm(LIMIT));
    assertEquals(350, LeaveLevels.dangerPpm(ExposureLimit.byId("osha").orElseThrow()));
  }

  @Test
  void beforeAJobTheWeakestChipThatCanTellIsReckonedWith() {
    assertEquals(new LeaveLevels(3.3, 3.3), LeaveLevels.learned(List.of(), LIMIT));
  }

  // By hand: a chip that shows 1 + c / 10 shows 9 times at twice the short-term limit, halved for
  // the prediction, which is 40 ppm told as 80; 1 + 8 / sqrt(2) at half of that.
  @Test
  void outsideAJobAMinuteAndAQuarterOfAnHourAreJudgedLikeADetector() {
    ChipAnswer answer = new ChipAnswer(8 * Math.sqrt(2.5));
    LeaveLevels levels = LeaveLevels.learned(List.of(answer, answer, answer), LIMIT);
    assertEquals(9, levels.outside(), 1e-9);
    assertEquals(1 + 8 / Math.sqrt(2), levels.outsideOfAQuarter(), 1e-9);
    assertEquals(3.3, LeaveLevels.FIRST.outsideOfAQuarter());
  }

  /** However wrong the prediction is by two, leave comes before the air is dangerous. */
  @Property
  void aLearnedLevelIsReachedBeforeDanger(
      @ForAll @DoubleRange(min = 0.3, max = 2) double k,
      @ForAll @DoubleRange(min = 0.5, max = 1) double b,
      @ForAll @DoubleRange(min = 15, max = 60) double ppm,
      @ForAll @DoubleRange(min = 0.5, max = 2) double predictedTimes) {
    Optional<ChipAnswer> answer = job(k, b, ppm, predictedTimes);
    List<ChipAnswer> three = answer.map(one -> List.of(one, one, one)).orElse(List.of());
    LeaveLevels levels = LeaveLevels.learned(three, LIMIT);
    double atDanger = Math.pow(1 + k * 200, b);
    assertTrue(levels.inJob() <= 1.05 * atDanger, levels + " of " + atDanger);
    assertTrue(levels.outside() <= levels.inJob());
  }

  /** A good job of a strong chip does not cry wolf in the next one. */
  @Test
  void aJobAsTheLastDoesNotReachTheLevel() {
    for (double b : new double[] {0.65, 0.8, 1}) {
      ChipAnswer answer = job(2, b, 25, 1).orElseThrow();
      LeaveLevels levels = LeaveLevels.learned(List.of(answer, answer), LIMIT);
      assertTrue(levels.inJob() > Math.pow(1 + 2 * 25, b), b + ": " + levels);
    }
  }

  @Test
  void oneJobTeachesLittleTwoTheLowerAndMoreTheMedian() {
    List<ChipAnswer> answers = new ArrayList<>();
    for (double rise : new double[] {300, 20, 22, 9000, 24}) {
      answers.add(new ChipAnswer(rise));
    }
    assertEquals(61, LeaveLevels.learned(answers.subList(0, 1), LIMIT).inJob());
    assertEquals(21, LeaveLevels.learned(answers.subList(0, 2), LIMIT).inJob(), 1e-9);
    assertEquals(23, LeaveLevels.learned(answers.subList(0, 3), LIMIT).inJob(), 1e-9);
    assertEquals(25, LeaveLevels.learned(answers, LIMIT).inJob(), 1e-9, "one mistyped job");
  }

  @Test
  void aJobThatTheChipHardlySawTeachesNothing() {
    assertEquals(Optional.empty(), job(0.05, 0.5, 25, 1));
    assertEquals(Optional.empty(), ChipAnswer.ofJob(List.of()));
  }

  @Test
  void levelsAreBounded() {
    LeaveLevels most =
        LeaveLevels.learned(
            List.of(new ChipAnswer(1e5), new ChipAnswer(1e5), new ChipAnswer(1e5)), LIMIT);
    assertEquals(new LeaveLevels(400, 400), most);
    LeaveLevels least = LeaveLevels.learned(List.of(new ChipAnswer(0.1)), LIMIT);
    assertEquals(LeaveLevels.FIRST, least);
  }
}
