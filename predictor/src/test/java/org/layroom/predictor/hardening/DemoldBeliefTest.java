package org.layroom.predictor.hardening;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalDouble;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How hard or soft parts move the belief about demold. The expected values were computed outside
 * this project (numpy, checked on a grid) from the formula of a probit observation with exact
 * moments, prior ln 12 h with a spread of 0.70; grade: computed, tolerance 1e-5.
 */
class DemoldBeliefTest {
  private static final double NAIL = 0.25;
  private static final double PART = 0.35;

  private static DemoldBelief seen(DemoldBelief belief, double hours, boolean hard, double sdLn) {
    return belief.observing(new HardnessSeen.Judged(hours, hard, sdLn));
  }

  private static void is(double lnHours, double sdLn, DemoldBelief belief) {
    assertEquals(lnHours, belief.lnHours(), 1e-5 * lnHours);
    assertEquals(sdLn, belief.sdLn(), 1e-5 * sdLn);
  }

  private static void band(double median, double early, double late, DemoldBelief belief) {
    assertEquals(median, belief.medianHours(), 0.0006);
    assertEquals(early, belief.earliestHours(), 0.003 * early);
    assertEquals(late, belief.latestHours(), 0.003 * late);
  }

  private static final DemoldBelief PRIOR = DemoldBelief.untested();

  @Test
  void softAtEightHours() {
    DemoldBelief after = seen(PRIOR, 8, false, NAIL);
    is(2.805332, 0.521635, after);
    band(16.533, 8.47, 32.3, after);
  }

  @Test
  void hardAtEightHours() {
    DemoldBelief after = seen(PRIOR, 8, true, NAIL);
    is(1.710639, 0.411017, after);
    band(5.533, 3.27, 9.37, after);
  }

  @Test
  void cameOutFineAtTwentyFourHours() {
    DemoldBelief after = seen(PRIOR, 24, true, PART);
    is(2.277124, 0.575854, after);
    band(9.749, 4.66, 20.4, after);
  }

  @Test
  void softAtTwentyFourHours() {
    DemoldBelief after = seen(PRIOR, 24, false, NAIL);
    is(3.454857, 0.381392, after);
    band(31.654, 19.4, 51.6, after);
  }

  @Test
  void softAtEightAndHardAtSixteen() {
    DemoldBelief after = seen(seen(PRIOR, 8, false, NAIL), 16, true, NAIL);
    is(2.412892, 0.358530, after);
    band(11.166, 7.05, 17.7, after);
    // The other way round 2.45442: the moment update is not exactly commutative.
    DemoldBelief other = seen(seen(PRIOR, 16, true, NAIL), 8, false, NAIL);
    assertEquals(2.45442, other.lnHours(), 1e-5);
    assertEquals(other.lnHours(), after.lnHours(), 0.1);
  }

  @Test
  void softAtFiveAndNineAndHardAtTwenty() {
    DemoldBelief after = seen(seen(seen(PRIOR, 5, false, NAIL), 9, false, NAIL), 20, true, NAIL);
    is(2.602349, 0.343206, after);
    band(13.495, 8.69, 21.0, after);
  }

  @Test
  void cameOutFineAtTwentyFourHoursFiveTimes() {
    DemoldBelief after = PRIOR;
    for (int i = 0; i < 5; i++) {
      after = seen(after, 24, true, PART);
    }
    is(2.078348, 0.432007, after);
    band(7.991, 4.59, 13.9, after);
  }

  @ParameterizedTest
  @CsvSource({"38, 2.404356, 11.071, 7.09, 17.3", "18, 3.912048, 50.001, 32.0, 78.0"})
  void barcolAtTwentyFourHours(
      double barcol, double lnHours, double median, double early, double late) {
    Outcome reading = Outcome.barcol(barcol, new PartAge(24, 0));
    DemoldBelief after = PRIOR.observing(reading.seen(0));
    is(lnHours, 0.347297, after);
    band(median, early, late, after);
  }

  @Test
  void chancesOfThePrior() {
    assertEquals(0.16104, 1 - PRIOR.chanceHardAt(24, 0), 1e-5);
    assertEquals(0.96105, PRIOR.chanceHardAt(41.2237, 0), 1e-5);
    assertEquals(0.29271, PRIOR.chanceHardAt(8, NAIL), 1e-5);
    // The interval of 21.6 to 26.4 h that was shown once holds 7.0 % of it.
    assertEquals(0.070, PRIOR.chanceHardAt(26.4, 0) - PRIOR.chanceHardAt(21.6, 0), 0.001);
    assertEquals(4.9, PRIOR.earliestHours(), 0.05);
    assertEquals(29.4, PRIOR.latestHours(), 0.05);
  }

  @Test
  void anUnbelievableOutcomeStillGivesNumbers() {
    DemoldBelief sure = new DemoldBelief(Math.log(12), 0.05);
    for (double hours : new double[] {1e-3, 0.1, 1, 100, 9999}) {
      for (boolean hard : new boolean[] {true, false}) {
        DemoldBelief after = seen(sure, hours, hard, 0.01);
        assertTrue(Double.isFinite(after.lnHours()) && after.sdLn() >= 0, after.toString());
        assertTrue(after.sdLn() <= sure.sdLn() * (1 + 1e-12), after.toString());
      }
    }
    // Mills' ratio meets the quotient where one takes over from the other.
    assertEquals(Probit.excess(-4), Probit.excess(Math.nextDown(-4.0)), 1e-12);
  }

  @Property(tries = 2000)
  void hardAndSoftMoveItInOppositeWaysAndNeverWidenIt(
      @ForAll @DoubleRange(min = 0.5, max = 300) double hours,
      @ForAll @DoubleRange(min = 0.05, max = 0.9) double sdLn,
      @ForAll @DoubleRange(min = 0.1, max = 0.6) double criterion) {
    DemoldBelief belief = new DemoldBelief(Math.log(12), sdLn);
    DemoldBelief soft = seen(belief, hours, false, criterion);
    DemoldBelief hard = seen(belief, hours, true, criterion);
    assertTrue(soft.lnHours() >= belief.lnHours() && hard.lnHours() <= belief.lnHours());
    assertTrue(soft.sdLn() <= sdLn * (1 + 1e-12) && hard.sdLn() <= sdLn * (1 + 1e-12));
  }

  @Test
  void theNailTestThatTeachesMostIsAtTheMedian() {
    NailTest best = NailTest.of(PRIOR);
    assertEquals(12, best.hours(), 1e-9);
    for (double hours : new double[] {4, 8, 16, 30}) {
      double chance = PRIOR.chanceHardAt(hours, NAIL);
      double hard = seen(PRIOR, hours, true, NAIL).sdLn();
      double soft = seen(PRIOR, hours, false, NAIL).sdLn();
      double variance = chance * hard * hard + (1 - chance) * soft * soft;
      assertTrue(best.sdLnAfter() * best.sdLnAfter() < variance, hours + " h");
    }
  }

  @Test
  void aHardnessOutsideTheStraightPartIsJudged() {
    PartAge day = new PartAge(24, 0);
    assertTrue(Outcome.barcol(5, day).seen(0) instanceof HardnessSeen.Judged j && !j.hard());
    assertTrue(Outcome.barcol(48, day).seen(0) instanceof HardnessSeen.Judged j && j.hard());
    assertTrue(Outcome.barcol(18, day).soft());
    assertThrows(
        IllegalArgumentException.class,
        () -> new Outcome(Outcome.Kind.SOFT, OptionalDouble.of(20), day));
    assertThrows(IllegalArgumentException.class, () -> Outcome.barcol(120, day));
    assertThrows(IllegalArgumentException.class, () -> new PartAge(0, 0));
  }
}
